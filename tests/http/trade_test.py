#!/usr/bin/env python3
"""The trade from end to end on the real server: measured stock in, 85 pieces on order, one plan over all,
sawn, ticked off, quoted, invoiced, paid and delivered; and the books balance to the coin at every step.

Usage: trade_test.py KERFWRIGHT
"""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tempfile
import time
import unittest
from pathlib import Path

from workbench import Workbench, validator

PROGRAM = sys.argv.pop(1) if len(sys.argv) > 1 else "kerfwright"
TICKS_PER_INCH = 508_000_000

SHOP = {
    "name": "Bench and Bough", "address": "1 Mill Lane", "currency": "USD", "wage": 2800, "overhead_percent": 12,
    "overhead_hourly": 150, "margin_percent": 30, "fee_percent": 6.5, "fee_fixed": 20, "tax_percent": 8,
    "fee_on_tax": False, "yard": "", "price_old_days": 90, "offcut_percent": 50, "hours": [8, 8, 8, 8, 8, 0, 0],
    "days_off": [], "hardware": [{"name": "deck screw 8 x 3", "holds": 100, "price": 1450, "whole": True}],
    "glues": [], "finishes": [], "valid_days": 30,
    "parcels": [{"name": "small", "kg": 2, "longest": "60 in", "price": 900},
                {"name": "freight", "kg": 60, "longest": "200 in", "price": 6500}],
    "consumables": [{"name": "blade", "holds": 2000, "price": 4500, "whole": False, "with": "cut"}],
    "market": [{"piece": "trestle", "price": 9900, "note": "at the fair"}],
}


def text_of(pdf: bytes) -> str:
    with tempfile.NamedTemporaryFile(suffix=".pdf") as file:
        file.write(pdf)
        file.flush()
        return subprocess.run(["pdftotext", "-layout", file.name, "-"], capture_output=True, check=True,
                              text=True).stdout


class Trade(unittest.TestCase):
    def setUp(self) -> None:
        self.bench = Workbench(PROGRAM)
        self.addCleanup(self.bench.close)
        for piece in ("trestle", "tote"):
            self.bench.make(piece, starter=piece)
        self.trade = self.bench.ask("GET", "/api/trade").json()

    def take(self, reply) -> dict:
        """The books after a change; they balance, and the boards' account is worth what is on the rack."""
        self.assertEqual(reply.status, 200, reply.body)
        self.trade = reply.json()
        self.assertEqual(sum(a["amount"] for a in self.trade["accounts"]), 0)
        on_rack = sum(b["value"] for b in self.trade["boards"])
        self.assertEqual(self.account("boards"), on_rack)
        return self.trade

    def account(self, kind: str) -> int:
        return sum(a["amount"] for a in self.trade["accounts"] if a["kind"] == kind)

    def enter(self, *entries: dict) -> dict:
        day = self.trade["today"]
        made = [{"day": day, **entry} for entry in entries]
        return self.take(self.bench.ask("POST", "/api/trade/entries",
                                        {"after": self.trade["entries"], "entries": made}))

    def work(self, ask: dict) -> dict:
        started = self.bench.ask("POST", "/api/trade/work", ask)
        self.assertEqual(started.status, 202, started.body)
        for _ in range(600):
            now = self.bench.ask("GET", "/api/trade/work").json()
            if now["state"] not in ("waiting", "running"):
                return now
            time.sleep(0.1)
        self.fail("the work does not end")

    def post(self, where: str, **body: object):
        return self.bench.ask("POST", f"/api/trade/{where}", {"after": self.trade["entries"], **body})

    def tick_on_a_phone(self, batch: int, parts: list[str]) -> None:
        gone = self.bench.ask("POST", "/api/bench", {"batch": 999})
        self.assertEqual((gone.status, gone.json()["code"]), (404, "trade.no-such-batch"))
        opened = self.bench.ask("POST", "/api/bench", {"batch": batch})
        if opened.status == 503:
            self.skipTest("this machine has no network that a phone could reach")
        at = re.match(r"http://([\d.]+):(\d+)/", opened.json()["address"])
        host, port = at.group(1), int(at.group(2))
        paired = self.bench.ask("GET", f"/bench?code={opened.json()['code']}", host=host, port=port)
        page = paired.headers["location"]
        text = self.bench.ask("GET", page, host=host, port=port).body.decode()
        data = json.loads(re.search(r'<script type="application/json" id="data">(.*?)</script>', text, re.S).group(1))
        self.assertEqual([e.message for e in validator("BenchData").iter_errors(data)], [])
        self.assertLess(set(parts), {cut["part"] for cut in data["cuts"]})
        ticks = [{"id": f"tick-{i:08}", "cut": part, "did": did, "at": "2026-11-26T10:00:00Z"}
                 for i, (part, did) in enumerate([(p, "done") for p in parts] + [(parts[0], "undone"), (parts[0], "done")])]
        entries = []
        for _ in range(2):  # sent again, nothing changes
            reply = self.bench.ask("POST", f"{page}/ticks", {"ticks": ticks}, host=host, port=port)
            self.assertEqual(reply.status, 200, reply.body)
            self.assertEqual(len(reply.json()["ticks"]), len(ticks))
            entries.append(self.bench.ask("GET", "/api/trade").json()["entries"])
        self.assertEqual(entries[0], entries[1])

    def test_85_mixed_pieces_from_the_yard_to_the_buyer(self) -> None:
        self.take(self.bench.ask("POST", "/api/trade/shop", SHOP))
        self.enter({"event": "owner-paid", "amount": 500_000})
        # Measured stock: by tape and caliper, and from a file.
        board = {"stock": "2x4", "species": "Spruce-Pine-Fir", "length": "96 1/4 in", "value": 380}
        self.enter({"event": "boards-found", "boards": [{**board, "faults": [["20 in", "22 in"]]}, board]})
        rack = "stock,length,count\n2x4,8 ft,4\n"
        self.take(self.post("import", what="boards-bought", csv=rack, yard="Mill"))
        self.assertEqual(len(self.trade["boards"]), 6)
        self.assertEqual(self.trade["boards"][0]["length"]["ticks"], TICKS_PER_INCH * 385 // 4)
        prices = f"day,yard,stock,length,per,price\n{self.trade['today']},Mill,2x4,8 ft,piece,4.10\n"
        self.take(self.post("import", what="prices", csv=prices))
        # 85 pieces, four variants.
        self.enter(
            {"event": "order-taken", "facts": {"buyer": "A", "piece": "trestle", "count": 30, "each": 9500}},
            {"event": "order-taken", "facts": {"buyer": "B", "piece": "trestle", "count": 15, "each": 9900,
                                               "sizes": [["height", "30 in"]]}},
            {"event": "order-taken", "facts": {"buyer": "C", "piece": "tote", "count": 25, "each": 6500}},
            {"event": "order-taken", "facts": {"buyer": "D", "piece": "tote", "count": 15, "each": 6500,
                                               "sizes": [["long", "16 in"]]}})
        orders = [o["number"] for o in self.trade["orders"]]
        done = self.work({"kind": "batch", "name": "spring", "orders": orders, "seconds": 8})
        self.assertEqual((done["state"], done["words"]), ("done", ""))
        batch = done["batch"]
        self.assertTrue(all("proved" in p or "within" in p for p in batch["proof"]), batch["proof"])
        self.assertEqual([o["count"] for o in batch["orders"]], [30, 15, 25, 15])
        shared = sum(o["count"] * o["cost_each"] for o in batch["orders"])
        self.assertTrue(0 <= shared - batch["cost"]["total"] < 85, (shared, batch["cost"]["total"]))
        self.assertEqual(sum(line["total"] for line in batch["cost"]["lines"]), batch["cost"]["total"])
        self.assertTrue(self.bench.ask("GET", "/api/trade/files/work-sawing.pdf").body.startswith(b"%PDF"))
        # Booked: boards reserved; a second booking of the same plan is refused.
        self.take(self.post("work/book"))
        number = self.trade["batches"][0]["number"]
        self.assertEqual(self.post("work/book").status, 404)
        reserved = [b for b in self.trade["boards"] if b["state"] == "reserved"]
        self.assertEqual(len(reserved), len(batch["boards"]))
        # Not sawn before it is bought.
        early = self.post(f"batches/{number}/sawn")
        self.assertEqual((early.status, early.json()["code"]), (422, "trade.board-missing"))
        bought = [{"stock": b["stock"], "species": b["species"], "length": b["length"]["ticks"],
                   "width": b["width"]["ticks"], "value": b["each"]}
                  for b in self.trade["batches"][0]["to_buy"] for _ in range(b["count"])]
        paid = sum(b["value"] for b in bought)
        cash = self.account("cash")
        self.enter({"event": "boards-bought", "yard": "Mill", "batch": number, "boards": bought})
        self.assertEqual(self.account("cash"), cash - paid)
        self.assertEqual(self.trade["batches"][0]["to_buy"], [])
        before = sum(b["value"] for b in self.trade["boards"])
        self.take(self.post(f"batches/{number}/sawn"))
        offcuts = [b for b in self.trade["boards"] if b["born_in"] == number]
        self.assertTrue(offcuts)
        spent = self.trade["batches"][0]["spent"]
        self.assertEqual(before, spent + sum(b["value"] for b in self.trade["boards"]))
        labels = text_of(self.bench.ask("GET", "/api/trade/files/labels.pdf").body)
        for offcut in offcuts:
            self.assertIn(offcut["code"], labels)
        # Ticked off on the bench page of a phone: all but the last part there, that one on the page.
        *parts, last = self.trade["batches"][0]["parts"]
        self.tick_on_a_phone(number, [p["part"] for p in parts])
        self.take(self.bench.ask("GET", "/api/trade"))
        self.enter({"event": "parts-done", "batch": number, "part": last["part"], "count": last["wanted"]})
        self.assertTrue(all(p["done"] == p["wanted"] for p in self.trade["batches"][0]["parts"]))
        self.enter({"event": "time-logged", "batch": number, "minutes": 2400, "work": {"cut": 800, "set-up": 12}})
        # To the buyers.
        for order in self.trade["orders"]:
            net = order["each"] * order["count"]
            tax = (net * 8 + 50) // 100
            name = f"order-{order['number']}"
            quote = text_of(self.bench.ask("GET", f"/api/trade/files/{name}-quote.pdf?paper=a4").body)
            self.assertIn(f"{(net + tax) / 100:.2f} USD", quote)
            self.enter({"event": "invoiced", "order": order["number"], "net": net, "tax": tax},
                       {"event": "paid", "order": order["number"], "amount": net + tax, "fee": 300},
                       {"event": "delivered", "order": order["number"]})
            invoice = text_of(self.bench.ask("GET", f"/api/trade/files/{name}-invoice.pdf").body)
            self.assertIn("to pay", invoice)
        self.assertTrue(all(o["state"] == "delivered" and o["owed"] == 0 for o in self.trade["orders"]))
        self.assertTrue(self.trade["batches"][0]["is_over"])
        self.assertEqual(self.trade["batches"][0]["spent"], 0)
        # The same books after a restart.
        known = self.bench.ask("GET", "/api/trade").json()
        self.bench.stop()
        self.bench.start()
        self.assertEqual(self.bench.ask("GET", "/api/trade").json(), known)

    def test_two_that_reserve_one_board_are_not_both_heard(self) -> None:
        self.enter({"event": "boards-found", "boards": [{"stock": "2x4", "length": "96 in", "value": 400}]},
                   {"event": "order-taken", "facts": {"buyer": "A", "piece": "trestle", "count": 1}},
                   {"event": "order-taken", "facts": {"buyer": "B", "piece": "trestle", "count": 1}})
        lots = [[{"order": n, "count": 1, "weight": 1}] for n in (2, 3)]
        plans = [{"event": "batch-planned", "lots": lot, "boards": [1], "day": self.trade["today"]} for lot in lots]
        first = self.bench.ask("POST", "/api/trade/entries", {"after": 3, "entries": [plans[0]]})
        self.assertEqual(first.status, 200, first.body)
        second = self.bench.ask("POST", "/api/trade/entries", {"after": 3, "entries": [plans[1]]})
        self.assertEqual((second.status, second.json()["code"]), (409, "server.not-newest"))
        third = self.bench.ask("POST", "/api/trade/entries", {"after": 4, "entries": [plans[1]]})
        self.assertEqual((third.status, third.json()["code"]), (422, "trade.board-not-free"))

    def test_bad_requests_change_nothing(self) -> None:
        for target, body in (("entries", {"after": 0, "entries": []}),
                             ("entries", {"after": 0, "entries": [{"event": "boards-found"}]}),
                             ("entries", {"after": 0, "entries": [7]}),
                             ("entries", {"after": -1, "entries": [{"event": "owner-paid"}]}),
                             ("shop", {**SHOP, "margin_percent": 100}),
                             ("shop", {**SHOP, "more": 1}),
                             ("work", {"kind": "cost", "piece": "../etc"}),
                             ("work", {"kind": "batch", "orders": []}),
                             ("import", {"after": 0, "what": "boards-found", "csv": 7})):
            reply = self.bench.ask("POST", f"/api/trade/{target}", body)
            self.assertEqual(reply.status, 400, (target, body, reply.body))
        bad = self.bench.ask("POST", "/api/trade/import",
                             {"after": 0, "what": "boards-found", "csv": "stock,length\n2x4,long\n"})
        self.assertEqual(bad.status, 422)
        for name in ("order-0-quote.pdf", "order-9-quote.pdf", "batch-1-sawing.pdf", "labels.pdf", "work-sawing.pdf",
                     "order-99999999999-quote.pdf", "x"):
            self.assertEqual(self.bench.ask("GET", f"/api/trade/files/{name}").status, 404, name)
        self.assertEqual(self.bench.ask("GET", "/api/trade/work").status, 404)
        self.assertEqual(self.bench.ask("GET", "/api/trade").json(), self.trade)

    def test_cost_of_a_piece_line_by_line_and_against_the_count(self) -> None:
        self.take(self.bench.ask("POST", "/api/trade/shop", SHOP))
        done = self.work({"kind": "cost", "piece": "trestle", "counts": [1, 2, 5, 10], "seconds": 4})
        self.assertEqual(done["state"], "done", done["words"])
        cost = done["cost"]
        self.assertEqual(sum(line["total"] for line in cost["lines"]), cost["total"])
        self.assertEqual([p["count"] for p in cost["curve"]], [1, 2, 5, 10])
        self.assertLess(cost["curve"][-1]["each"], cost["curve"][0]["each"])
        self.assertEqual(cost["market"]["least"], 9900)
        self.assertEqual(cost["parcel"], {"name": "freight", "price": 6500})
        fee = (cost["price"] * 65 + 500) // 1000 + 20
        self.assertEqual(cost["fee"], fee)
        self.assertEqual(cost["profit"], cost["price"] - fee - cost["each"])
        self.assertGreaterEqual(cost["profit"], cost["price"] * 0.3 - 1e-9)
        failed = self.work({"kind": "cost", "piece": "trestle", "sizes": [["height", "0"]]})
        self.assertEqual(failed["state"], "failed")
        self.assertIn("trestle", failed["words"])
        self.bench.ask("POST", "/api/trade/work", {"kind": "cost", "piece": "trestle", "counts": [900], "seconds": 60})
        began = time.monotonic()
        self.bench.ask("POST", "/api/trade/work/cancel", {})
        while self.bench.ask("GET", "/api/trade/work").json()["state"] in ("waiting", "running"):
            time.sleep(0.02)
        self.assertLess(time.monotonic() - began, 10)


if __name__ == "__main__":
    unittest.main(verbosity=1)
