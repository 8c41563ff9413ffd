// What is wrong with a form that was sent, and at which of its fields.
import { getContext, setContext } from "svelte";
import { Trouble } from "../api/client";
import type { Problem } from "../api/types";
import { Unfit } from "./entries";

/** What the program says is wrong, and where: its pointer, or the place that its words begin with. */
export function faultOf({ detail, title, hint, pointer }: Problem): { words: string; hint: string; at: string } {
  const found = /^(?:entry \d+ of the request: )?(\/\S+) (.+)$/s.exec(detail);
  if (found) return { words: `It ${found[2]!.replaceAll("`", "“")}.`.replaceAll(/“([^“]*)“/g, "“$1”"), hint: "", at: pointer ?? found[1]! };
  return { words: detail || title, hint, at: pointer ?? "" };
}

const key = Symbol("fault");

export class Fault {
  words = $state("");
  hint = $state("");
  /** As the program points: "/entries/0/boards/2/length". */
  at = $state("");

  clear(): void {
    this.words = this.hint = this.at = "";
  }
  /** Throws what is no fault of what was typed, nor trouble with sending it. */
  take(error: unknown): void {
    if (error instanceof Unfit) Object.assign(this, { words: `${error.message}.`, hint: "", at: error.at });
    else if (error instanceof Trouble) Object.assign(this, faultOf(error.problem));
    else throw error;
  }
  isAt(field: string): boolean {
    return this.words !== "" && field !== "" && this.at.endsWith(field);
  }
}

export function newFault(): Fault {
  return setContext(key, new Fault());
}
export const faultOfForm = (): Fault | undefined => getContext<Fault | undefined>(key);
