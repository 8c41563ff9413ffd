// What each board bears of what it may be counted on for, in five bands; the plan book paints the same.
import type { Finding } from "../api/types";

/** Up to this share, the last without an end: past the limit. */
export const shareLimits: readonly number[] = [0.25, 0.5, 0.75, 1];
export type ShareBand = 0 | 1 | 2 | 3 | 4;
export const shareBands: ShareBand[] = [0, 1, 2, 3, 4];

export function bandOf(share: number): ShareBand {
  const band = shareLimits.findIndex((limit) => share <= limit);
  return (band < 0 ? shareLimits.length : band) as ShareBand;
}

export function wordsOf(band: ShareBand): string {
  const limit = shareLimits[band];
  return limit === undefined ? "over 1" : `to ${limit}`;
}

/** By board, where the checks computed it. */
export function sharesOf(findings: Finding[]): Map<string, number> {
  const told = findings.find(({ shares }) => shares.length > 0);
  return new Map(told?.boards.map((board, i) => [board, told.shares[i] ?? 0]));
}
