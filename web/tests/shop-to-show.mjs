// Books for pictures: a small shop a few weeks into its work, entered as the page would.
const lumber = "Hill Lumber";

async function asked(address, path, body) {
  const headers = { "content-type": "application/json", origin: address };
  const reply = await fetch(`${address}${path}`, body ? { method: "POST", headers, body: JSON.stringify(body) } : {});
  const answer = await reply.json();
  if (!reply.ok) throw new Error(`${path}: ${answer.detail} ${answer.hint}`);
  return answer;
}

const before = (day, days) => new Date(Date.parse(`${day}T00:00:00Z`) - days * 86_400_000).toISOString().slice(0, 10);

/** Fills the books of the program at `address`; `piece` is what is ordered. */
export async function fillShop(address, piece) {
  let trade = await asked(address, "/api/trade");
  const { today } = trade;
  const enter = async (...entries) => {
    const dated = entries.map((entry) => ({ form: 1, day: today, ...entry }));
    trade = await asked(address, "/api/trade/entries", { after: trade.entries, entries: dated });
  };
  const shop = {
    ...trade.shop, name: "Bench & Bough", address: "12 Mill Lane\nOakford", currency: "$", wage: 2800, overhead_percent: 12, overhead_hourly: 150,
    margin_percent: 30, fee_percent: 6.5, fee_fixed: 20, tax_percent: 8, hours: [6, 6, 6, 6, 4, 0, 0],
    finishes: [{ name: "Exterior oil", holds: 1, price: 2490, whole: false }], consumables: [{ name: "Saw blade", holds: 2000, price: 4500, whole: false, with: "cut" }],
    hardware: [{ name: "deck screw 8 x 2-1/2", holds: 100, price: 1290, whole: false }], market: [{ piece, price: 38900, note: "market at Oakford" }, { piece, price: 32500, note: "by the road" }],
  };
  trade = await asked(address, "/api/trade/shop", shop);
  const price = (stock, length, coins, days) => ({ event: "price-seen", day: before(today, days), yard: lumber, stock, length, per: "piece", price: coins });
  await enter(
    { event: "owner-paid", day: before(today, 30), amount: 150_000, note: "to begin with" },
    ...[[60, 0.9], [31, 0.96], [2, 1]].flatMap(([days, share]) => [["2x4", "8 ft", 410], ["1x4", "8 ft", 385], ["5/4x4", "8 ft", 690], ["2x3", "8 ft", 340], ["5/4x6", "8 ft", 890], ["1x3", "8 ft", 310], ["2x6", "8 ft", 720]].map(([stock, length, coins]) => price(stock, length, Math.round(coins * share), days))),
    { event: "boards-found", day: before(today, 28), boards: [{ stock: "2x4", species: "Spruce-Pine-Fir", length: "96 in", moisture: 12, value: 380, faults: [["20 in", "22 in"], ["70 in", "71 1/2 in"]] }, { stock: "2x4", species: "Spruce-Pine-Fir", length: "61 1/2 in", moisture: 11, value: 210 }] },
    { event: "boards-bought", day: before(today, 6), yard: lumber, boards: [1, 2, 3].map(() => ({ stock: "1x4", species: "Spruce-Pine-Fir", length: "8 ft", value: 385, moisture: 14 })) },
    { event: "money-spent", day: before(today, 6), on: "supplies", what: "screws and oil", paid: 3780 },
  );
  const order = (buyer, count, due, more = {}) => ({ event: "order-taken", facts: { buyer, piece, count, each: 36500, due: before(today, -due), ...more } });
  await enter(order("Bell & Sons", 2, 24), order("Mrs Okafor", 1, 40, { note: "by the south wall" }));
  const orders = trade.orders.map(({ number }) => number);
  await asked(address, "/api/trade/work", { kind: "batch", name: "Two gardens", orders, seconds: 3 });
  let work;
  do {
    await new Promise((done) => setTimeout(done, 200));
    work = await asked(address, "/api/trade/work");
  } while (work.state === "waiting" || work.state === "running");
  if (work.state !== "done") throw new Error(work.words);
  trade = await asked(address, "/api/trade/work/book", { after: trade.entries });
  const [batch] = trade.batches;
  const bought = batch.to_buy.flatMap(({ stock, species, length, each, count }) => Array(count).fill({ stock, species, length: length.ticks, value: each }));
  if (bought.length) await enter({ event: "boards-bought", yard: lumber, batch: batch.number, boards: bought });
  trade = await asked(address, `/api/trade/batches/${batch.number}/sawn`, { after: trade.entries });
  await enter(
    ...batch.parts.slice(0, 4).map(({ part, wanted }, i) => ({ event: "parts-done", batch: batch.number, part, count: i ? Math.ceil(wanted / (i + 1)) : wanted })),
    { event: "time-logged", batch: batch.number, minutes: 210, work: { "set-up": 6, cut: 60, board: 14 } },
    { event: "invoiced", order: orders[0], net: 73000, tax: 5840 },
    { event: "paid", order: orders[0], amount: 30000, fee: 1970 },
  );
  await enter(order("Reed", 1, -2, { note: "was promised for the fair" }), order("Lund", 4, 60));
}
