#!/usr/bin/env python3
"""The real server's replies, held to the contract; and that what the page is told agrees with itself.

Usage: contract_test.py KERFWRIGHT
"""

from __future__ import annotations

import base64
import http.client
import json
import struct
import sys
import time
import unittest

from workbench import CONTRACT, Workbench, validator

PROGRAM = sys.argv.pop(1) if len(sys.argv) > 1 else "kerfwright"


def spliced(text: str, splices: list[dict]) -> str:
    """The text after splices that count UTF-16 code units."""
    units = text.encode("utf-16-le")
    for splice in splices:
        units = units[: 2 * splice["from"]] + splice["with"].encode("utf-16-le") + units[2 * splice["to"]:]
    return units.decode("utf-16-le")


def merged(view: dict, changes: dict) -> dict:
    """A view brought up to date as the page does it."""
    new = dict(view)
    meshes = {mesh["id"]: mesh for mesh in view["meshes"] + changes["meshes"]}
    for key, value in changes.items():
        if key not in ("base", "splices", "made", "meshes"):
            new[key] = value
    new["text"] = spliced(view["text"], changes["splices"])
    wanted = {body["mesh"] for body in new["bodies"]}
    new["meshes"] = sorted((m for i, m in meshes.items() if i in wanted), key=lambda m: m["id"])
    return new


class Contract(unittest.TestCase):
    def setUp(self) -> None:
        self.bench = Workbench(PROGRAM)
        self.addCleanup(self.bench.close)

    def test_examples_of_the_contract_are_good(self) -> None:
        for name, schema in CONTRACT["components"]["schemas"].items():
            for example in schema.get("examples", []):
                self.assertEqual([e.message for e in validator(name).iter_errors(example)], [], name)

    def test_shelf(self) -> None:
        shelf = self.bench.ask("GET", "/api/shelf").json()
        self.assertGreaterEqual(len(shelf["starters"]), 8)
        for starter in shelf["starters"]:
            self.bench.make(starter["name"], starter=starter["name"])
        self.bench.make("copy", copy_of="trestle")
        self.bench.make("mine", nothing={"title": "Mine \"too\"", "unit": "mm"})
        again = self.bench.ask("POST", "/api/shelf", {"name": "mine", "from": {"starter": "trestle"}})
        self.assertEqual((again.status, again.json()["code"]), (422, "shelf.name-taken"))
        for starter in shelf["starters"]:
            view = self.bench.view(starter["name"])
            self.assertEqual([d for d in view["diagnostics"] if d["severity"] == "error"], [])
            self.assertEqual({b["mesh"] for b in view["bodies"]}, {m["id"] for m in view["meshes"]})
        self.assertEqual(self.bench.ask("POST", "/api/pieces/copy/rename", {"to": "other"}).status, 200)
        binned = self.bench.ask("POST", "/api/pieces/other/bin", {}).json()
        self.assertEqual(self.bench.ask("GET", "/api/pieces/other").status, 404)
        back = self.bench.ask("POST", f"/api/bin/{binned['id']}/take-back", {}).json()
        self.assertEqual(back["name"], "other")
        self.assertEqual(self.bench.view("other")["title"], "Sawing trestle")

    def test_meshes_are_watertight_and_faces_cover_them(self) -> None:
        self.bench.make("t", starter="trestle")
        view = self.bench.view("t")
        for mesh in view["meshes"]:
            raw = base64.b64decode(mesh["triangles"])
            corners = struct.unpack(f"<{len(raw) // 4}I", raw)
            edges = {}
            for i in range(0, len(corners), 3):
                a, b, c = corners[i: i + 3]
                for pair in ((a, b), (b, c), (c, a)):
                    edges[pair] = edges.get(pair, 0) + 1
            self.assertTrue(all(edges[(b, a)] == n for (a, b), n in edges.items()))
            self.assertEqual(sum(face["count"] for face in mesh["faces"]), len(corners) // 3)
            points = base64.b64decode(mesh["points"])
            self.assertLess(max(corners), len(points) // 12)
            for face in mesh["faces"]:  # every corner of a face lies in its plane
                for at in corners[3 * face["from"]: 3 * (face["from"] + face["count"])]:
                    x, y, z = struct.unpack_from("<3f", points, 12 * at)
                    n = face["normal"]
                    self.assertAlmostEqual(x * n[0] + y * n[1] + z * n[2], face["offset"], delta=1e-2)

    def test_changes_bring_a_view_to_what_a_fresh_one_is(self) -> None:
        self.bench.make("t", starter="trestle")
        view = self.bench.view("t")
        steps = [
            {"kind": "set", "path": ["size", "height", "is"], "value": "30 1/2"},
            {"kind": "slide", "size": "long", "at": 28.3},
            {"kind": "splice", "from": 0, "to": 0, "with": "# \u00bc \U0001fa9a first\n"},
            {"kind": "set", "path": ["board", "stretcher-middle", "note"], "value": "29 11/16\" clear"},
            {"kind": "unset", "path": ["board", "stretcher-middle", "note"]},
            {"kind": "add_size", "id": "gap", "is": "1/4", "from": "1/8", "to": "1/2"},
            {"kind": "add_stock", "id": "slat", "section": "1x4", "species": "spruce-pine-fir"},
            {"kind": "add_point", "id": "east", "at": {"at": ["40", "0", "10"]}},
            {"kind": "add_board", "id": "extra", "stock": "slat", "from": {"point": "east"}, "along": "y", "length": "12"},
            {"kind": "copy", "how": "repeat", "boards": ["extra"], "count": "3", "step": ["6", "0", "0"]},
            {"kind": "add_joint", "joint": "butt", "boards": ["extra", "stretcher-middle"], "keys": {"ease": "1/64"}},
        ]
        for step in steps:
            reply = self.bench.edit("t", view["revision"], step)
            self.assertEqual(reply.status, 200, (step, reply.body))
            view = merged(view, reply.json())
            fresh = self.bench.view("t")
            fresh["meshes"].sort(key=lambda mesh: mesh["id"])
            self.assertEqual(view, fresh, step)
        self.assertEqual((self.bench.folder / "t.toml").read_text(encoding="utf-8"), view["text"])
        while view["history"]["can_undo"]:
            reply = self.bench.ask("POST", "/api/pieces/t/undo", {"base": view["revision"]})
            view = merged(view, reply.json())
        fresh = self.bench.view("t")
        first = self.bench.ask("GET", "/api/pieces/t/history").json()["revisions"][-1]
        self.assertEqual(first["revision"], 1)
        self.assertIn("# Two crossing pairs", fresh["text"][:30])
        for _ in steps:
            reply = self.bench.ask("POST", "/api/pieces/t/redo", {"base": view["revision"]})
            self.assertEqual(reply.status, 200)
            view = merged(view, reply.json())
        self.assertFalse(view["history"]["can_redo"])
        self.assertIn("extra", [b["id"] for b in view["bodies"]])
        self.assertEqual(self.bench.ask("POST", "/api/pieces/t/redo", {"base": view["revision"]}).status, 422)

    def test_undo_reaches_over_a_restart(self) -> None:
        self.bench.make("t", starter="trestle")
        before = self.bench.view("t")["text"]
        self.bench.edit("t", 1, {"kind": "set", "path": ["size", "height", "is"], "value": "30"})
        self.assertEqual(self.bench.stop(), 0)
        self.bench.start()
        view = self.bench.view("t")
        self.assertEqual(view["revision"], 2)
        reply = self.bench.ask("POST", "/api/pieces/t/undo", {"base": 2})
        self.assertEqual(reply.status, 200)
        self.assertEqual(self.bench.view("t")["text"], before)
        restored = self.bench.ask("POST", "/api/pieces/t/restore", {"base": 3, "revision": 2})
        self.assertEqual(restored.status, 200)
        self.assertIn('is   = "30"', self.bench.view("t")["text"])

    def test_a_group_is_one_step_of_undo(self) -> None:
        self.bench.make("t", starter="trestle")
        before = self.bench.view("t")["text"]
        for i, letter in enumerate("abc"):
            self.bench.edit("t", i + 1, {"kind": "splice", "from": i, "to": i, "with": letter}, group="typing")
        self.bench.ask("POST", "/api/pieces/t/undo", {"base": 4})
        self.assertEqual(self.bench.view("t")["text"], before)

    def test_broken_text_is_kept_and_the_picture_stays(self) -> None:
        self.bench.make("t", starter="trestle")
        bodies = self.bench.view("t")["bodies"]
        reply = self.bench.edit("t", 1, {"kind": "splice", "from": 0, "to": 0, "with": "= ["})
        self.assertEqual(reply.status, 200)
        view = self.bench.view("t")
        self.assertEqual(view["picture"], "earlier")
        self.assertEqual(view["bodies"], bodies)
        self.assertEqual(view["diagnostics"][0]["code"], "piece.syntax")
        self.assertTrue(view["text"].startswith("= ["))

    def test_a_try_keeps_nothing(self) -> None:
        self.bench.make("t", starter="trestle")
        view = self.bench.view("t")
        for wish in ({"size": "height", "value": "36"}, {"size": "height", "at": 36}):
            tried = self.bench.ask("POST", "/api/pieces/t/try", {"base": 1, "set": [wish]}).json()
            self.assertEqual((tried["revision"], tried["splices"]), (1, []))
            height = next(size for size in tried["sizes"] if size["name"] == "height")
            self.assertEqual(height["figure"]["value"], 36)
        self.assertEqual(self.bench.view("t"), view)

    def test_an_older_base_is_refused(self) -> None:
        self.bench.make("t", starter="trestle")
        self.bench.edit("t", 1, {"kind": "splice", "from": 0, "to": 0, "with": "#\n"})
        late = self.bench.edit("t", 1, {"kind": "splice", "from": 0, "to": 0, "with": "#\n"})
        self.assertEqual((late.status, late.json()["revision"]), (409, 2))

    def test_what_cannot_be_done_names_its_number_and_changes_nothing(self) -> None:
        self.bench.make("t", starter="trestle")
        text = self.bench.view("t")["text"]
        reply = self.bench.edit("t", 1, {"kind": "splice", "from": 0, "to": 0, "with": "#\n"},
                                {"kind": "unset", "path": ["size", "width", "is"]})
        self.assertEqual((reply.status, reply.json()["edit"]), (422, 1))
        self.assertEqual(self.bench.view("t")["text"], text)

    def test_another_program_is_not_written_over(self) -> None:
        self.bench.make("t", starter="trestle")
        view = self.bench.view("t")
        file = self.bench.folder / "t.toml"
        theirs = "# theirs\n" + view["text"]
        file.write_text(theirs, encoding="utf-8")
        self.bench.edit("t", 1, {"kind": "splice", "from": 0, "to": 0, "with": "# mine\n"})
        view = self.bench.view("t")
        self.assertEqual(view["saved"]["state"], "outside")
        self.assertEqual(view["saved"]["outside_text"], theirs)
        self.assertEqual(file.read_text(encoding="utf-8"), theirs)
        self.assertEqual(self.bench.ask("POST", "/api/pieces/t/outside", {"base": 2, "take": "theirs"}).status, 200)
        view = self.bench.view("t")
        self.assertEqual((view["text"], view["saved"]["state"]), (theirs, "saved"))
        self.bench.ask("POST", "/api/pieces/t/undo", {"base": view["revision"]})
        view = self.bench.view("t")
        self.assertTrue(view["text"].startswith("# mine\n"))
        file.write_text(theirs, encoding="utf-8")
        time.sleep(1.5)
        view = self.bench.view("t")
        self.assertEqual(view["saved"]["state"], "outside")
        self.bench.ask("POST", "/api/pieces/t/outside", {"base": view["revision"], "take": "mine"})
        self.assertTrue(file.read_text(encoding="utf-8").startswith("# mine\n"))

    def test_plan_sheets_card_and_files(self) -> None:
        self.bench.make("t", starter="trestle")
        at = "/api/pieces/t"
        self.assertEqual(self.bench.ask("GET", f"{at}/plan").status, 404)
        stream = self.listen("t")
        job = self.bench.ask("POST", f"{at}/plan", {"seconds": 0.3})
        self.assertEqual(job.status, 202)
        states = self.job_states(stream, job.json()["id"])
        self.assertEqual(states[-1], "done")
        plan = self.bench.ask("GET", f"{at}/plan").json()
        self.assertTrue(plan["is_current"])
        self.assertIn("USD", plan["cost"])
        for stock in plan["stocks"]:
            self.assertIn(b"<svg", self.bench.ask("GET", f"{at}/sheets/{stock['sheet']}.svg").body)
        self.assertTrue(self.bench.ask("GET", f"{at}/plan.pdf?paper=a4").body.startswith(b"%PDF"))
        self.assertEqual(self.bench.ask("GET", f"{at}/plan.pdf?paper=a5").status, 400)
        view = self.bench.view("t")
        for part in view["parts"]:
            self.assertIn(b"<svg", self.bench.ask("GET", f"{at}/part/{part['letter']}.svg").body)
        for body in view["bodies"]:
            card = self.bench.ask("GET", f"{at}/card/{body['id'].replace('/', '%2F')}").json()
            self.assertEqual((card["board"], card["part"]), (body["id"], body["part"]))
        for name in ("overall", "elevations"):
            self.assertEqual(self.bench.ask("GET", f"{at}/sheets/{name}.svg").status, 200)
        for file in view["files"] + plan["files"]:
            if file["name"] != "piece.step":  # the kernel may not be built
                self.assertEqual(self.bench.ask("GET", f"{at}/files/{file['name']}").status, 200, file)
        self.assertIn(b"Sawing trestle", self.bench.ask("GET", f"{at}/listing").body)
        self.assertEqual(self.bench.ask("POST", f"{at}/cancel", {}).status, 200)
        self.bench.ask("GET", "/api/about")
        self.bench.ask("GET", "/api/choices")

    def test_figures_in_the_other_unit(self) -> None:
        self.bench.make("t", starter="trestle")
        at = "/api/pieces/t"
        inches, mm = (self.bench.ask("GET", f"{at}?unit={unit}").json() for unit in ("in", "mm"))
        self.assertEqual((inches["unit"], mm["unit"], mm["file_unit"]), ("in", "mm", "in"))
        self.assertEqual((inches["text"], inches["meshes"]), (mm["text"], mm["meshes"]))
        for one, other in zip(inches["bodies"], mm["bodies"], strict=True):
            self.assertEqual(one["frame"], other["frame"])
            for figure in ("length", "width", "thickness"):  # each rounded to its own rule
                self.assertAlmostEqual(one[figure]["value"] * 25.4, other[figure]["value"], delta=25.4 / 32 + 0.51)
                self.assertRegex(other[figure]["text"], r"^[\d.]+ mm$")
        self.assertEqual(mm["rule"]["text"], "1 mm")
        self.assertEqual([s["slider"] and s["slider"]["at"] for s in mm["sizes"]],
                         [s["slider"] and s["slider"]["at"] for s in inches["sizes"]])
        # A bare figure typed for a size is in the unit that it is shown in, and the file says so.
        for typed, written in (("800", '"800 mm"'), ("31 in", '"31 in"')):
            step = {"kind": "set", "path": ["size", "height", "is"], "value": typed}
            reply = self.bench.ask("POST", f"{at}/edits?unit=mm", {"base": mm["revision"], "what": [step]})
            mm = merged(mm, reply.json())
            fresh = self.bench.ask("GET", f"{at}?unit=mm").json()
            fresh["meshes"].sort(key=lambda mesh: mesh["id"])
            self.assertEqual(mm, fresh)
            self.assertIn(written, mm["text"])
        tried = self.bench.ask("POST", f"{at}/try?unit=mm", {"base": 3, "set": [{"size": "height", "value": "812.8"}]})
        height = next(size for size in tried.json()["sizes"] if size["name"] == "height")
        self.assertEqual(height["figure"], {"text": "812.8 mm", "value": 812.8})
        body = mm["bodies"][0]
        card = self.bench.ask("GET", f"{at}/card/{body['id'].replace('/', '%2F')}?unit=mm").json()
        self.assertNotIn('"', "".join(card["marks"] + card["saw"]))
        drawing = self.bench.ask("GET", f"{at}/part/{body['part']}.svg?unit=mm").body
        self.assertNotEqual(drawing, self.bench.ask("GET", f"{at}/part/{body['part']}.svg").body)
        for call in ("", "/plan", "/listing", "/findings", "/steps", "/files/cut-list.csv"):
            self.assertEqual(self.bench.ask("GET", f"{at}{call}?unit=ell").status, 400, call)
        stream = self.listen("t")
        job = self.bench.ask("POST", f"{at}/plan?unit=mm", {"seconds": 0.3}).json()
        self.assertEqual(self.job_states(stream, job["id"])[-1], "done")
        self.assertEqual(self.bench.ask("GET", f"{at}/plan?unit=in").status, 404)
        plan = self.bench.ask("GET", f"{at}/plan?unit=mm").json()
        self.assertTrue(all(row["length"]["text"].endswith(" mm") for row in plan["buying"]))
        lengths = {part["letter"]: part["length"]["text"] for part in mm["parts"]}
        for stock in plan["stocks"]:
            for stick in stock["sticks"]:
                for part in stick["parts"]:
                    self.assertEqual(part["length"]["text"], lengths[part["part"]])
        self.assertTrue(self.bench.ask("GET", f"{at}/plan.pdf?unit=mm").body.startswith(b"%PDF"))
        self.assertEqual(self.bench.ask("GET", f"{at}/plan.pdf?unit=in").status, 404)

    def test_findings_and_steps_of_every_starter(self) -> None:
        for starter in self.bench.ask("GET", "/api/shelf").json()["starters"]:
            name = starter["name"]
            self.bench.make(name, starter=name)
            view = self.bench.view(name)
            boards = {body["id"] for body in view["bodies"]}
            found = self.bench.ask("GET", f"/api/pieces/{name}/findings").json()
            self.assertTrue(found["findings"], name)
            for one in found["findings"]:
                self.assertLessEqual(set(one["boards"]), boards)
                self.assertTrue(one["message"] and (one["change"] or one["verdict"] in ("passes", "look")), one)
            told = self.bench.ask("GET", f"/api/pieces/{name}/steps").json()
            self.assertEqual({one["board"] for one in told["apart"]}, boards)
            put_on = {one["board"] for step in told["steps"] for one in step["added"]}
            self.assertLessEqual(put_on, boards)
            last = told["steps"][-1]
            self.assertEqual(set(last["there"]) | {one["board"] for one in last["added"]}, boards, name)

    def listen(self, piece: str) -> http.client.HTTPResponse:
        connection = http.client.HTTPConnection(self.bench.host, self.bench.port, timeout=30)
        connection.request("GET", f"/api/events?piece={piece}")
        answer = connection.getresponse()
        self.assertEqual(answer.getheader("Content-Type"), "text/event-stream")
        self.assertEqual(answer.fp.readline(), b": here\n")
        self.addCleanup(connection.close)
        self.addCleanup(answer.close)
        return answer

    def job_states(self, stream: http.client.HTTPResponse, job: int) -> list[str]:
        states = []
        name = ""
        while not states or states[-1] in ("waiting", "running"):
            line = stream.fp.readline().decode()
            self.assertNotEqual(line, "")
            if line.startswith("event: "):
                name = line[7:].strip()
            if line.startswith("data: ") and name == "job":
                report = json.loads(line[6:])
                self.assertEqual(list(validator("Job").iter_errors(report)), [])
                if report["id"] == job:
                    states.append(report["state"])
        return states

    def test_requests_that_the_schema_refuses_are_refused(self) -> None:
        self.bench.make("t", starter="trestle")
        wrong = [
            {"base": 1}, {"base": 1, "what": []}, {"base": "1", "what": [{"kind": "unset", "path": ["a"]}]},
            {"base": 1.5, "what": [{"kind": "unset", "path": ["a"]}]}, {"base": True, "what": [{"kind": "unset", "path": ["a"]}]},
            {"base": 99999999999999999999, "what": [{"kind": "unset", "path": ["a"]}]},
            {"base": 1, "what": [{"kind": "paint"}]}, {"base": 1, "what": [{"kind": "unset", "path": []}]},
            {"base": 1, "what": [{"kind": "unset", "path": ["a"]}], "more": 1},
            {"base": 1, "what": [{"kind": "splice", "from": -1, "to": 0, "with": ""}]},
            {"base": 1, "what": [{"kind": "set", "path": ["a"], "value": 3}]},
            {"base": 1, "what": [{"kind": "set", "path": ["a"], "value": {"colour": "red"}}]},
            {"base": 1, "what": [{"kind": "add_joint", "joint": "nailed", "boards": ["a"]}]},
            {"base": 1, "what": [{"kind": "copy", "how": "mirror", "boards": []}]},
            {"base": 1, "what": [{"kind": "add_board", "stock": "leg", "from": {"at": ["0", "0"]}}]}, [], 3, None, "x",
        ]
        check = validator("Edits")
        for body in wrong:
            self.assertTrue(list(check.iter_errors(body)), body)
            reply = self.bench.ask("POST", "/api/pieces/t/edits", json.dumps(body).encode())
            self.assertEqual((reply.status, reply.json()["code"]), (400, "wire.bad-request"), body)
        for text in (b"", b"{", b'{"base":1,"base":1,"what":[]}', b"[" * 5000, b'{"base":1,"what":[{"kind":"\xff"}]}'):
            self.assertEqual(self.bench.ask("POST", "/api/pieces/t/edits", text).status, 400, text[:40])
        self.assertEqual(self.bench.view("t")["revision"], 1)


if __name__ == "__main__":
    unittest.main()
