import type { Path } from "../api/types";

export const key = (path: Path): string => path.join(".");
export const samePath = (a: Path, b: Path): boolean => key(a) === key(b);
