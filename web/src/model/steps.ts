// Steps of building as the file tells them: its boards in their order, copies with their original,
// each with the joints that it has to what stands already.
import type { View } from "../api/types";
import { key } from "./path";

export interface Step {
  words: string;
  boards: string[];
  joints: string[];
}

export function stepsOf({ bodies, joints }: View): Step[] {
  const groups = new Map<string, string[]>();
  for (const { id, path } of bodies) groups.set(key(path), [...(groups.get(key(path)) ?? []), id]);
  const there = new Set<string>();
  return [...groups.values()].map((boards) => {
    for (const id of boards) there.add(id);
    const made = joints.filter(
      ({ boards: of }) => of.every((id) => there.has(id)) && of.some((id) => boards.includes(id)),
    );
    return {
      words: boards.length > 1 ? `${boards[0]!} and ${boards.length - 1} more` : boards[0]!,
      boards,
      joints: [...new Set(made.map(({ words }) => words))].slice(0, 4),
    };
  });
}
