#!/usr/bin/env python3
"""The public pages where buyers fit a piece to their size, with several programs over one store, in a file and in PostgreSQL.

Usage: fit_test.py KERFWRIGHT
"""

from __future__ import annotations

import html
import http.client
import re
import socket
import subprocess
import sys
import tempfile
import unittest
import urllib.parse
from pathlib import Path

import postgres
from workbench import ROOT, Reply, Workbench

PROGRAM = sys.argv.pop(1) if len(sys.argv) > 1 else "kerfwright"
FORM = {"Content-Type": "application/x-www-form-urlencoded"}
GOOD = {"size.width": "18 1/2", "size.height": "15 in", "unit": "in", "paper": "letter", "buyer": "Ann O'Dell & <Co>"}


class Pages:
    """One program that serves the public pages."""

    def __init__(self, store: str, *options: str) -> None:
        command = [PROGRAM, "fit", "--store", store, "--port", "0", *options]
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
        line = self.process.stdout.readline()
        found = re.search(r"http://([\d.]+):(\d+)/fit", line)
        assert found, f"the pages did not start: {line!r}"
        self.host, self.port = found.group(1), int(found.group(2))

    def close(self) -> None:
        self.process.terminate()
        self.process.wait(timeout=20)
        self.process.stdout.close()

    def ask(self, method: str, target: str, body: bytes | None = None, headers: dict | None = None) -> Reply:
        connection = http.client.HTTPConnection(self.host, self.port, timeout=60)
        connection.request(method, target, body, headers or {})
        answer = connection.getresponse()
        reply = Reply(answer.status, {k.lower(): v for k, v in answer.getheaders()}, answer.read())
        connection.close()
        return reply

    def order(self, fields: dict[str, str], headers: dict | None = None, piece: str = "step-stool") -> Reply:
        return self.ask("POST", f"/fit/{piece}", urllib.parse.urlencode(fields).encode(), {**FORM, **(headers or {})})


def run(*words: str) -> subprocess.CompletedProcess:
    return subprocess.run([PROGRAM, *words], check=False, capture_output=True, text=True)


class OnBoth:
    """What must hold over a file and over PostgreSQL."""

    def setUp(self) -> None:
        self.store = self.store_of_its_own()
        piece = str(ROOT / "starters/step-stool.toml")
        offered = run("offer", "step-stool", piece, "--store", self.store, "--size", "width", "--size", "height=14 1/2..16")
        self.assertEqual(offered.returncode, 0, offered.stderr)

    def pages(self, *options: str) -> Pages:
        pages = Pages(self.store, *options)
        self.addCleanup(pages.close)
        return pages

    def work(self) -> None:
        done = run("work", "--store", self.store, "--once")
        self.assertEqual(done.returncode, 0, done.stderr)

    def test_an_order_at_one_program_is_a_book_at_another(self) -> None:
        first, second = self.pages(), self.pages()
        self.assertIn(b'href="/fit/step-stool"', first.ask("GET", "/fit").body)
        form = second.ask("GET", "/fit/step-stool").body.decode()
        self.assertIn("14&quot; to 20&quot;", form)
        self.assertIn("14 1/2&quot; to 16&quot;", form)
        self.assertNotIn("<script", form)
        places = []
        for _ in range(4):
            reply = first.order(GOOD)
            self.assertEqual(reply.status, 303, reply.body)
            places.append(reply.headers["location"])
        self.assertIn(b"3 before yours", second.ask("GET", places[3]).body)
        self.assertEqual(second.ask("GET", places[0] + "/plan.pdf").status, 404)
        workers = [subprocess.Popen([PROGRAM, "work", "--store", self.store, "--once"], stdout=subprocess.DEVNULL) for _ in range(2)]
        self.assertEqual([worker.wait(timeout=120) for worker in workers], [0, 0])
        books = [second.ask("GET", place + "/plan.pdf") for place in places]
        self.assertEqual({(book.status, book.headers["content-type"]) for book in books}, {(200, "application/pdf")})
        self.assertEqual(len({book.body for book in books}), 1, "the same order is the same book")
        self.assertIn(b"is ready", first.ask("GET", places[1]).body)
        with tempfile.NamedTemporaryFile(suffix=".pdf") as file:
            file.write(books[0].body)
            file.flush()
            text = subprocess.run(["pdftotext", "-layout", file.name, "-"], check=True, capture_output=True, text=True).stdout
        self.assertIn("Ann O'Dell & <Co>", text)
        self.assertRegex(text, r"width \(over the sides\) +18 1/2\"")

    def test_one_asker_gets_so_many_and_no_more(self) -> None:
        pages = self.pages("--per-hour", "2")
        self.assertEqual([pages.order(GOOD).status for _ in range(3)], [303, 303, 429])
        self.assertEqual(pages.order(GOOD, {"X-Forwarded-For": "192.0.2.9"}).status, 429, "it is not believed without a proxy")
        behind = self.pages("--per-hour", "2", "--behind-proxy")
        for asker in ("192.0.2.1", "192.0.2.2"):
            forged = [{"X-Forwarded-For": f"10.0.0.{n}, {asker}"} for n in range(3)]
            self.assertEqual([behind.order(GOOD, head).status for head in forged], [303, 303, 429])

    def test_so_many_wait_and_no_more(self) -> None:
        pages = self.pages("--waiting", "2")
        self.assertEqual([pages.order(GOOD).status for _ in range(3)], [303, 303, 503])
        self.work()
        self.assertEqual(pages.order(GOOD).status, 303)

    def test_what_is_withdrawn_is_gone_but_what_was_ordered_is_made(self) -> None:
        pages = self.pages()
        place = pages.order(GOOD).headers["location"]
        self.assertEqual(run("offer", "step-stool", "--withdraw", "--store", self.store).returncode, 0)
        self.assertEqual(pages.ask("GET", "/fit/step-stool").status, 404)
        self.assertIn(b"Nothing is offered", pages.ask("GET", "/fit").body)
        self.work()
        self.assertEqual(pages.ask("GET", place + "/plan.pdf").status, 200)


class InAFile(OnBoth, unittest.TestCase):
    def store_of_its_own(self) -> str:
        folder = tempfile.TemporaryDirectory(prefix="kw-fit-")
        self.addCleanup(folder.cleanup)
        return str(Path(folder.name) / "fit.db")

    def test_bad_input_is_refused_with_words(self) -> None:
        pages = self.pages()
        rows = [
            ({"size.width": "99"}, "is not between"), ({"size.width": "13 7/8"}, "is not between"), ({"size.width": "-18"}, "is not between"),
            ({"size.height": "16.001"}, "is not between"), ({"size.width": ""}, "is not a length"), ({"size.width": "1e1"}, "is not a length"),
            ({"size.width": "width + 1"}, "is not a length"), ({"size.width": "18; drop"}, "is not a length"),
            ({"size.width": "9" * 500}, "is not a length"), ({"size.width": "18/0"}, "is not a length"), ({"size.depth": "1"}, "is no field"),
            ({"unit": "yd"}, "unit is in or mm"), ({"paper": "a0"}, "paper is letter or a4"), ({"buyer": "x" * 121}, "at most 120"),
            ({"piece": "other"}, "is no field"), ({"version": "1"}, "no field"),
        ]
        for change, words in rows:
            reply = pages.order({**GOOD, **change})
            self.assertEqual(reply.status, 400, change)
            self.assertTrue(words in html.unescape(reply.body.decode()), f"{change}: {words}")
        self.assertEqual(pages.order({**GOOD, "size.width": '"><script>'}).body.count(b"<script"), 0)
        for body in (b"%", b"%zz=1", b"a=1&a=2", b"a=%00", b"\xff\xfe=%ff"):
            self.assertEqual(pages.ask("POST", "/fit/step-stool", body, FORM).status, 400, body)
        self.assertEqual(pages.ask("POST", "/fit/step-stool", b"buyer=%ff", FORM).status, 400)
        self.assertEqual(pages.ask("POST", "/fit/step-stool", b"{}", {"Content-Type": "application/json"}).status, 415)
        self.assertEqual(pages.ask("POST", "/fit/step-stool", b"x" * 20_000, FORM).status, 413)
        self.assertEqual(pages.order(GOOD, piece="none").status, 404)
        self.assertEqual(run("work", "--store", self.store, "--once").stdout, "", "nothing of it was ordered")

    def test_sizes_that_do_not_go_together_are_told_the_buyer(self) -> None:
        text = (ROOT / "starters/step-stool.toml").read_text(encoding="utf-8")
        # Each size is good at both its ends, but not both sizes at their least.
        text = text.replace("[derived]\n", '[derived]\nnever = "if(width + height < 29.5 in, 1 in / 0, 1 in)"\n', 1)
        with tempfile.NamedTemporaryFile("w", suffix=".toml", encoding="utf-8") as file:
            file.write(text)
            file.flush()
            offered = run("offer", "odd", file.name, "--store", self.store, "--size", "width", "--size", "height")
        self.assertEqual(offered.returncode, 0, offered.stderr)
        pages = self.pages()
        reply = pages.order({"size.width": "14", "size.height": "14"}, piece="odd")
        self.assertEqual(reply.status, 303)
        self.work()
        page = pages.ask("GET", reply.headers["location"])
        self.assertIn("could not be made", page.body.decode())
        self.assertIn("cannot be built", page.body.decode())
        self.assertEqual(pages.ask("GET", reply.headers["location"] + "/plan.pdf").status, 404)

    def test_nothing_else_can_be_reached(self) -> None:
        pages = self.pages()
        for target in ("/api/shelf", "/api/about", "/api/pieces/step-stool", "/api/events", "/api/bench", "/bench", "/bench/x", "/index.html",
                       "/assets/x.js", "/fit/step-stool/x", "/fit/..%2F..%2Fetc", "/book", "/book/" + "0" * 32, "/book/x/plan.pdf",
                       "/book/x/y/z", "/fit/%00", "/fit/%27%20or%201%3D1", "/etc/passwd", "/fit/" + "x" * 3000):
            for method in ("GET", "HEAD"):
                self.assertIn(pages.ask(method, target).status, (400, 404), target)
        for method in ("PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"):
            self.assertEqual(pages.ask(method, "/fit/step-stool").status, 405, method)
        self.assertEqual(pages.ask("POST", "/fit").status, 405)
        self.assertEqual(pages.ask("POST", "/book/x").status, 405)
        reply = pages.ask("GET", "/fit", headers={"Host": "plans.example"})
        self.assertEqual(reply.status, 200, "whatever the proxy calls us")
        self.assertIn("default-src 'none'", reply.headers["content-security-policy"])
        self.assertNotIn("access-control-allow-origin", reply.headers)

    def test_hostile_clients_do_not_keep_others_out(self) -> None:
        pages = self.pages()
        for _ in range(60):
            connection = socket.create_connection((pages.host, pages.port), timeout=30)
            self.addCleanup(connection.close)
            connection.sendall(b"POST /fit/step-stool HTTP/1.1\r\nHost: ")
        self.assertEqual(pages.ask("GET", "/fit").status, 200)


@unittest.skipIf(postgres.programs() is None, "PostgreSQL is not installed here (tools/setup installs it)")
class InPostgres(OnBoth, unittest.TestCase):
    server: postgres.Postgres
    schemas = 0

    @classmethod
    def setUpClass(cls) -> None:
        cls.server = postgres.Postgres()
        cls.addClassCleanup(cls.server.close)

    def store_of_its_own(self) -> str:
        self.__class__.schemas += 1
        schema = f"t{self.schemas}"
        subprocess.run(["psql", "-q", "-h", str(self.server.folder), "-U", "kerfwright", "-d", "postgres", "-c", f"CREATE SCHEMA {schema}"],
                       check=True)
        return f"{self.server.address}&options=-csearch_path%3D{schema}"

    def test_the_workbench_keeps_its_histories_there(self) -> None:
        bench = Workbench(PROGRAM, options=("--store", self.store_of_its_own()))
        self.addCleanup(bench.close)
        bench.make("t", starter="trestle")
        bench.view("t")
        for n in range(1, 6):
            self.assertEqual(bench.edit("t", n, {"kind": "splice", "from": 0, "to": 0, "with": f"# {n}\n"}).status, 200)
        bench.kill()
        bench.start()
        view = bench.view("t")
        self.assertEqual(view["revision"], 6)
        self.assertEqual(view["text"].splitlines()[:5], ["# 5", "# 4", "# 3", "# 2", "# 1"])
        self.assertFalse((bench.folder / ".kerfwright" / "history.db").exists())
        second = subprocess.run([PROGRAM, "serve", str(bench.folder), "--port", "0", "--no-open", *bench.options], check=False,
                                capture_output=True, text=True)
        self.assertIn("another program holds", second.stderr)


if __name__ == "__main__":
    unittest.main()
