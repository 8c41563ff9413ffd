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
  /** What had the keyboard before the picture was asked. */
  private asker: Element | null = null;

  ask(wish: Wish): void {
    this.asker = document.activeElement;
    this.wish = wish;
  }

  answer(picked: Picked): void {
    const { wish } = this;
    this.stop();
    wish?.take(picked);
  }

  stop(): void {
    if (this.wish && this.asker instanceof HTMLElement) this.asker.focus({ preventScroll: true });
    this.wish = null;
    this.asker = null;
  }
}
