// In which unit figures are asked for; null: each piece's own.
export type Unit = "in" | "mm";
export const asked = $state<{ unit: Unit | null }>({ unit: null });
