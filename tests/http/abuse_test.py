#!/usr/bin/env python3
"""What a hostile or broken program may do to the real server, while a good one is answered at once.

Usage: abuse_test.py KERFWRIGHT
"""

from __future__ import annotations

import http.client
import json
import random
import re
import socket
import statistics
import sys
import threading
import time
import unittest
from pathlib import Path

from workbench import Workbench

PROGRAM = sys.argv.pop(1) if len(sys.argv) > 1 else "kerfwright"
FASTEST_OF = 20  # a good client asks so often; the median counts, since the machine may be busy


class Abuse(unittest.TestCase):
    def setUp(self) -> None:
        self.bench = Workbench(PROGRAM)
        self.addCleanup(self.bench.close)
        self.bench.make("t", starter="trestle")
        self.bench.view("t")

    def connect(self, port: int | None = None, host: str | None = None) -> socket.socket:
        connection = socket.create_connection((host or self.bench.host, port or self.bench.port), timeout=30)
        self.addCleanup(connection.close)
        return connection

    def head(self, *more: str, method: str = "POST", target: str = "/api/shelf") -> bytes:
        lines = [f"{method} {target} HTTP/1.1", f"Host: {self.bench.host}:{self.bench.port}", f"Origin: {self.bench.origin}",
                 "Content-Type: application/json", *more, "", ""]
        return "\r\n".join(lines).encode()

    def good_client_is_answered(self, within: float = 0.010) -> float:
        """The median time of a good request, seconds."""
        times = []
        for _ in range(FASTEST_OF):
            start = time.perf_counter()
            self.assertEqual(self.bench.ask("GET", "/api/about").status, 200)
            times.append(time.perf_counter() - start)
        median = statistics.median(times)
        self.assertLess(min(times), within)
        return median

    def answer(self, connection: socket.socket) -> tuple[int, bytes]:
        """Status and rest of what comes until the other side closes; 0 when it just closes."""
        data = b""
        try:
            while chunk := connection.recv(65536):
                data += chunk
        except OSError:
            pass
        found = re.match(rb"HTTP/1\.1 (\d+)", data)
        return (int(found.group(1)) if found else 0), data

    def test_half_open_clients(self) -> None:
        for _ in range(64):
            self.connect().sendall(b"POST /api/shelf HTTP/1.1\r\nHost: ")
        self.good_client_is_answered()

    def test_one_byte_a_second_is_cut(self) -> None:
        connection = self.connect()
        connection.settimeout(1.0)
        start = time.monotonic()
        data = self.head("Content-Length: 100")
        cut = False
        for i in range(25):
            try:
                connection.sendall(data[i: i + 1])
                if connection.recv(1000) == b"":
                    cut = True
            except TimeoutError:
                continue
            except OSError:
                cut = True
            if cut:
                break
        self.assertTrue(cut)
        self.assertLess(time.monotonic() - start, 15)
        self.good_client_is_answered()

    def test_bodies_that_are_too_large(self) -> None:
        connection = self.connect()
        connection.sendall(self.head(f"Content-Length: {64 << 20}"))
        self.assertEqual(self.answer(connection)[0], 413)
        before = self.memory()
        connection = self.connect()
        chunk = b"10000\r\n" + b"x" * 65536 + b"\r\n"
        sent = 0
        try:
            connection.sendall(self.head("Transfer-Encoding: chunked"))
            while sent < 64 << 20:
                connection.sendall(chunk)
                sent += 65536
        except OSError:
            pass
        self.assertLess(sent, 32 << 20)
        self.assertLess(self.memory() - before, 16 << 20)
        self.good_client_is_answered()

    def memory(self) -> int:
        status = Path(f"/proc/{self.bench.process.pid}/status").read_text(encoding="ascii")
        return int(re.search(r"VmRSS:\s+(\d+) kB", status).group(1)) * 1024

    def test_headers_that_are_too_many_or_too_long(self) -> None:
        for flood in (b"A: b\r\n" * 200_000, b"A: " + b"b" * (8 << 20)):
            connection = self.connect()
            try:
                connection.sendall(self.head()[:-2] + flood)
            except OSError:
                pass
            self.assertIn(self.answer(connection)[0], (0, 400, 431))
        self.good_client_is_answered()

    def test_broken_http(self) -> None:
        for junk in (b"\x16\x03\x01\x02\x00" * 50, b"GET\r\n\r\n", b"\x00" * 1000,
                     self.head("Content-Length: -2"), self.head("Content-Length: 5", "Content-Length: 6"),
                     self.head("Transfer-Encoding: chunked") + b"-2\r\n"):
            connection = self.connect()
            connection.sendall(junk)
            self.assertIn(self.answer(connection)[0], (0, 400))
        self.good_client_is_answered()

    def test_other_names_and_other_pages(self) -> None:
        ask = self.bench.ask
        for host in ("evil.test", f"evil.test:{self.bench.port}", "", f"{self.bench.host}:1"):
            self.assertEqual(ask("GET", "/api/shelf", headers={"Host": host}).status, 421, host)
        connection = self.connect()
        connection.sendall(b"GET / HTTP/1.1\r\n\r\n")
        self.assertEqual(self.answer(connection)[0], 421)
        body = {"name": "x", "from": {"starter": "trestle"}}
        for origin in ("http://evil.test", "null", f"http://{self.bench.host}", f"https://{self.bench.host}:{self.bench.port}"):
            self.assertEqual(ask("POST", "/api/shelf", body, {"Origin": origin}).status, 403, origin)
        connection = http.client.HTTPConnection(self.bench.host, self.bench.port)
        connection.request("POST", "/api/shelf", json.dumps(body), {"Content-Type": "application/json"})
        self.assertEqual(connection.getresponse().status, 403)
        connection.close()
        self.assertEqual(ask("POST", "/api/shelf", json.dumps(body).encode(), {"Content-Type": "text/plain"}).status, 415)
        self.assertFalse((self.bench.folder / "x.toml").exists())
        reply = ask("GET", "/api/shelf")
        self.assertNotIn("access-control-allow-origin", reply.headers)
        self.assertEqual(reply.headers["x-content-type-options"], "nosniff")
        self.assertIn("default-src 'self'", reply.headers["content-security-policy"])

    def test_tricks_with_paths(self) -> None:
        (self.bench.folder.parent / "kw-secret.toml").write_text("piece = 'secret'", encoding="utf-8")
        self.addCleanup((self.bench.folder.parent / "kw-secret.toml").unlink)
        for target in ("/../kw-secret.toml", "/api/pieces/../kw-secret", "/api/pieces/..%2Fkw-secret", "/api/pieces/%2e%2e",
                       "/api/pieces/t%00", "/api/pieces/.kerfwright", "/api/pieces/t/files/..%2F..%2Fkw-secret.toml",
                       "/api/pieces/t/files/%2Fetc%2Fpasswd", "//etc/passwd", "/%", "/%zz", "/api/pieces/t/card/" + "x" * 3000,
                       "/api/bin/..%2F..%2Fkw-secret/take-back"):
            reply = self.bench.ask("GET", target)
            self.assertGreaterEqual(reply.status, 400, target)
            self.assertNotIn(b"secret'", reply.body)
        for name in ("../x", "a/b", "", ".x", "-x", "x" * 81, "x\u00e4"):
            self.assertEqual(self.bench.ask("POST", "/api/shelf", {"name": name, "from": {"starter": "trestle"}}).status, 400, name)
        self.assertEqual(self.bench.ask("PUT", "/api/shelf").status, 405)
        self.assertEqual(self.bench.ask("POST", "/api/about").status, 405)

    def test_many_event_streams(self) -> None:
        for _ in range(24):
            connection = self.connect()
            connection.sendall(self.head(method="GET", target="/api/events"))
        self.good_client_is_answered()

    def test_too_many_connections_are_told_so(self) -> None:
        held = [self.connect() for _ in range(127)]
        time.sleep(0.2)
        more = [self.connect() for _ in range(8)]
        time.sleep(0.2)
        statuses = [self.answer(connection)[0] for connection in more]
        self.assertIn(503, statuses)
        for connection in held:
            connection.close()
        time.sleep(0.2)
        self.good_client_is_answered()

    def test_a_plan_in_the_making_does_not_hold_others_up(self) -> None:
        self.bench.ask("POST", "/api/pieces/t/plan", {"seconds": 5})
        self.good_client_is_answered()
        reply = self.bench.edit("t", 1, {"kind": "splice", "from": 0, "to": 0, "with": "#\n"})
        self.assertEqual(reply.status, 200)
        self.assertEqual(self.bench.ask("POST", "/api/pieces/t/cancel", {}).status, 200)


class Pairing(unittest.TestCase):
    def setUp(self) -> None:
        self.bench = Workbench(PROGRAM)
        self.addCleanup(self.bench.close)
        self.bench.make("t", starter="trestle")
        state = self.bench.ask("POST", "/api/bench", {"piece": "t"})
        if state.status == 503:
            self.skipTest("this machine is in no network")
        self.state = state.json()
        self.host, port = re.match(r"http://([\d.]+):(\d+)/bench\Z", self.state["address"]).groups()
        self.port = int(port)

    def ask(self, method: str, target: str, body: object = None, **more: object):
        return self.bench.ask(method, target, body, host=self.host, port=self.port, **more)

    def paired(self) -> str:
        reply = self.ask("GET", f"/bench?code={self.state['code']}")
        self.assertEqual(reply.status, 303)
        return reply.headers["location"]

    def test_ticks_are_kept_once_and_over_a_restart(self) -> None:
        self.assertIn("<svg", self.state["qr"])
        page = self.paired()
        data = json.loads(re.search(r'id="data">(.*?)</script>', self.ask("GET", page).body.decode(), re.S).group(1))
        cut = data["cuts"][0]["id"]
        ticks = [{"id": f"phone-{i:04}", "cut": cut, "did": "done", "at": "2026-01-02T03:04:05Z"} for i in range(5)]
        self.assertEqual(self.ask("POST", f"{page}/ticks", {"ticks": ticks}).json()["kept"], 5)
        again = self.ask("POST", f"{page}/ticks", {"ticks": ticks + [dict(ticks[0], id="phone-new1", did="note", words="<b>"), ]})
        self.assertEqual((again.json()["kept"], len(again.json()["ticks"])), (1, 6))
        self.assertNotIn(b"<b>", self.ask("GET", page).body)
        self.bench.stop()
        self.bench.start()
        state = self.bench.ask("POST", "/api/bench", {"piece": "t"}).json()
        port = int(state["address"].rsplit(":", 1)[1].split("/")[0])
        reply = self.bench.ask("GET", f"/bench?code={state['code']}", host=self.host, port=port)
        page = self.bench.ask("GET", reply.headers["location"], host=self.host, port=port)
        self.assertEqual(page.body.count(b"phone-0"), 5)

    def test_a_code_pairs_once(self) -> None:
        self.paired()
        self.assertEqual(self.ask("GET", f"/bench?code={self.state['code']}").status, 403)
        self.assertIsNone(self.bench.ask("GET", "/api/bench").json()["code"])

    def test_guessing_spends_the_code(self) -> None:
        wrong = [f"{n:06}" for n in range(20) if f"{n:06}" != self.state["code"]]
        for code in wrong[:5]:
            self.assertEqual(self.ask("GET", f"/bench?code={code}").status, 403)
        self.assertEqual(self.ask("GET", f"/bench?code={self.state['code']}").status, 403)
        for token in ("0" * 32, "x", "../x", "%00"):
            self.assertGreaterEqual(self.ask("GET", f"/bench/{token}").status, 400)
            self.assertGreaterEqual(self.ask("POST", f"/bench/{token}/ticks", {"ticks": []}).status, 400)

    def test_the_phone_sees_nothing_else(self) -> None:
        self.paired()
        for target in ("/", "/api/shelf", "/api/pieces/t", "/api/events", "/api/bench"):
            self.assertEqual(self.ask("GET", target).status, 404, target)
        self.assertEqual(self.ask("GET", "/bench", headers={"Host": "evil.test"}).status, 421)
        self.assertEqual(self.bench.ask("GET", "/bench").headers["content-type"].split(";")[0], "text/html")

    def test_closing_ends_it(self) -> None:
        page = self.paired()
        self.assertFalse(self.bench.ask("DELETE", "/api/bench").json()["is_open"])
        time.sleep(0.2)
        with self.assertRaises(OSError):
            self.ask("GET", page)


class Killed(unittest.TestCase):
    """kill -9 during a thousand edits loses at most the one in flight."""

    def test_nothing_acknowledged_is_lost(self) -> None:
        bench = Workbench(PROGRAM)
        self.addCleanup(bench.close)
        bench.make("t", nothing={"title": "Kill", "unit": "in"})
        bench.view("t")
        acknowledged = 1
        chance = random.Random(7)
        while acknowledged < 1000:
            deaths = threading.Timer(chance.uniform(0.05, 0.8), bench.process.kill)
            deaths.start()
            try:
                while acknowledged < 1000:
                    reply = bench.edit("t", acknowledged, {"kind": "splice", "from": 0, "to": 0, "with": f"# {acknowledged}\n"})
                    self.assertEqual(reply.status, 200, reply.body)
                    acknowledged = reply.json()["revision"]
            except (OSError, http.client.HTTPException):
                pass
            deaths.join()
            bench.kill()
            bench.start()
            view = bench.view("t")
            self.assertIn(view["revision"], (acknowledged, acknowledged + 1))
            acknowledged = view["revision"]
            self.assertEqual(view["saved"]["state"], "saved")
            lines = view["text"].splitlines()[: acknowledged - 1]
            self.assertEqual(lines, [f"# {n}" for n in range(acknowledged - 1, 0, -1)])
            self.assertEqual((bench.folder / "t.toml").read_text(encoding="utf-8"), view["text"])


if __name__ == "__main__":
    unittest.main()
