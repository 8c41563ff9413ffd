// A form that waits for something to be pointed at in the picture.
import type { Picked, PickKind } from "../scene/places";

export interface Wish {
  kind: PickKind;
  words: string;
  take(picked: Picked): void;
}

export class Pointing {
  wish = $state.raw<Wish | null>(null);
  /** Crosses that the picture shows for what was pointed at. */
  marks = $state.raw<[number, number, number][]>([]);

  ask(wish: Wish): void {
    this.wish = wish;
  }

  answer(picked: Picked): void {
    const { wish } = this;
    this.wish = null;
    wish?.take(picked);
  }

  stop(): void {
    this.wish = null;
  }
}
