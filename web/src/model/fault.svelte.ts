// What is wrong with a form that was sent, and at which of its fields.
import { getContext, setContext } from "svelte";
import { Trouble } from "../api/client";
import { Unfit } from "./entries";

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
    else if (error instanceof Trouble) {
      const { detail, title, hint, pointer } = error.problem;
      Object.assign(this, { words: detail || title, hint, at: pointer ?? "" });
    } else throw error;
  }
  isAt(field: string): boolean {
    return this.words !== "" && field !== "" && this.at.endsWith(field);
  }
}

export function newFault(): Fault {
  return setContext(key, new Fault());
}
export const faultOfForm = (): Fault | undefined => getContext<Fault | undefined>(key);
