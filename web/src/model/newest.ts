// At most one request in flight; of what comes meanwhile only the newest waits. So a slider that is
// dragged never piles up work, and the last place it was at is always shown.
export function newest<T>(run: (value: T) => Promise<void>): {
  push(value: T): void;
  /** Forgets what waits, and comes back when nothing is in flight. */
  settle(): Promise<void>;
} {
  let waiting: { value: T } | null = null;
  let flying: Promise<void> | null = null;

  const fly = async () => {
    while (waiting) {
      const { value } = waiting;
      waiting = null;
      await run(value);
    }
    flying = null;
  };

  return {
    push(value) {
      waiting = { value };
      flying ??= fly();
    },
    async settle() {
      waiting = null;
      while (flying) await flying;
    },
  };
}
