// Where a board is faulty, for drawing only: "20 1/2 to 22; 40 to 41" as shares of its length.
interface Measured {
  text: string;
  ticks: number;
}

/** 20 1/2 -> 20.5; 3' 4" -> 40. NaN of what is no figure. */
export function figureOf(text: string): number {
  const found = /^~?(?:(\d+)'\s*)?(?:(\d+(?:\.\d+)?)(?:\s+(\d+)\/(\d+))?|(\d+)\/(\d+))?\s*(?:"|in|mm)?$/.exec(text.trim());
  if (!found || !text.trim()) return NaN;
  const [, feet, whole, up, low, onlyUp, onlyLow] = found;
  const part = (a?: string, b?: string) => (a && b ? Number(a) / Number(b) : 0);
  return Number(feet ?? 0) * 12 + Number(whole ?? 0) + part(up, low) + part(onlyUp, onlyLow);
}

export function placesOf(faults: string, length: Measured): { from: number; to: number }[] {
  const whole = figureOf(length.text);
  return faults.split(";").flatMap((one) => {
    const [from, to] = one.split(/\bto\b|–/).map((end) => figureOf(end) / whole);
    return from !== undefined && to !== undefined && from >= 0 && to > from && to <= 1.001 ? [{ from, to: Math.min(1, to) }] : [];
  });
}
