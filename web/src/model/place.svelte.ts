// Which piece and stage the address names, #/garden-bench/saw, or which room of the shop, #/shop/rack. No stage is
// called as a room is, so a piece may be called shop.
export const stages = ["shape", "prove", "buy", "saw", "build", "sell"] as const;
export type Stage = (typeof stages)[number];

export const stageWords: Record<Stage, { name: string; says: string }> = {
  shape: { name: "Shape", says: "Set its sizes and boards" },
  prove: { name: "Prove", says: "See that it goes together" },
  buy: { name: "Buy", says: "What to bring from the yard" },
  saw: { name: "Saw", says: "Which part from which board" },
  build: { name: "Build", says: "Put it together" },
  sell: { name: "Sell", says: "Its plan book and its words" },
};

export const rooms = ["rack", "prices", "orders", "batches", "money", "reckon"] as const;
export type Room = (typeof rooms)[number];

export const roomWords: Record<Room, { name: string; says: string }> = {
  rack: { name: "Rack", says: "Boards on hand and reserved" },
  prices: { name: "Prices", says: "What wood costs, where and when" },
  orders: { name: "Orders", says: "Who wants what by when" },
  batches: { name: "Batches", says: "What is made in one go" },
  money: { name: "Money", says: "What stands in the books" },
  reckon: { name: "Reckon", says: "Wage, margin, hours, packages" },
};

interface At {
  piece: string | null;
  stage: Stage;
  room: Room | null;
}

export function parse(hash: string): At {
  const [, piece, rest] = hash.split("/");
  const stage = stages.find((one) => one === rest);
  if (piece === "shop" && !stage)
    return { piece: null, stage: "shape", room: rooms.find((one) => one === rest) ?? "rack" };
  return { piece: piece ? decodeURIComponent(piece) : null, stage: stage ?? "shape", room: null };
}

export const place = $state(parse(location.hash));

addEventListener("hashchange", () => Object.assign(place, parse(location.hash)));

export const hrefOf = (piece: string, stage: Stage): string =>
  `#/${encodeURIComponent(piece)}/${stage}`;

export const roomHref = (room: Room): string => `#/shop/${room}`;

export function go(piece: string, stage: Stage = "shape"): void {
  location.hash = hrefOf(piece, stage);
}
