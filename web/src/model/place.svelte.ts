// Which piece and stage the address names: #/garden-bench/saw
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

function parse(hash: string): { piece: string | null; stage: Stage } {
  const [, piece, stage] = hash.split("/");
  const known = stages.find((one) => one === stage);
  return { piece: piece ? decodeURIComponent(piece) : null, stage: known ?? "shape" };
}

export const place = $state(parse(location.hash));

addEventListener("hashchange", () => Object.assign(place, parse(location.hash)));

export const hrefOf = (piece: string, stage: Stage): string =>
  `#/${encodeURIComponent(piece)}/${stage}`;

export function go(piece: string, stage: Stage = "shape"): void {
  location.hash = hrefOf(piece, stage);
}
