// How the shop reckons, as it is typed into its form; and back.
import type { NamedPackage, ShopSettings } from "../api/types";
import type { Unit } from "../api/unit.svelte";
import { day, length, money, moneyOr0, number, Unfit, whole } from "./entries";
import { typedOf } from "./money";

export interface PackageDraft {
  name: string;
  holds: string;
  price: string;
  whole: boolean;
  with: string;
}
export type Packages = "hardware" | "glues" | "finishes" | "consumables";
const lists: Packages[] = ["hardware", "glues", "finishes", "consumables"];
export const weekdays = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];

const sums = ["wage", "overhead_hourly", "fee_fixed"] as const;
const figures = ["overhead_percent", "margin_percent", "fee_percent", "tax_percent", "price_old_days", "offcut_percent", "valid_days"] as const;
const texts = ["name", "address", "currency", "yard"] as const;

export interface SettingsDraft extends Record<(typeof sums)[number] | (typeof figures)[number] | (typeof texts)[number], string>, Record<Packages, PackageDraft[]> {
  fee_on_tax: boolean;
  hours: string[];
  days_off: string[];
  parcels: { name: string; kg: string; longest: string; price: string }[];
  market: { piece: string; price: string; note: string }[];
}

export const blankPackage = (of: Packages): PackageDraft => ({ name: "", holds: "", price: "", whole: false, with: of === "consumables" ? "cut" : "" });
const draftOfPackage = (one: NamedPackage): PackageDraft => ({ name: one.name, holds: String(one.holds), price: typedOf(one.price), whole: one.whole, with: one.with ?? "" });

export function draftOfSettings(settings: ShopSettings): SettingsDraft {
  const pick = <K extends keyof ShopSettings>(keys: readonly K[], as: (value: ShopSettings[K]) => string) =>
    Object.fromEntries(keys.map((key) => [key, as(settings[key])])) as Record<K, string>;
  const packages = Object.fromEntries(lists.map((list) => [list, settings[list].map(draftOfPackage)])) as Record<Packages, PackageDraft[]>;
  return {
    ...pick(texts, String),
    ...pick(sums, typedOf),
    ...pick(figures, String),
    ...packages,
    fee_on_tax: settings.fee_on_tax,
    hours: settings.hours.map(String),
    days_off: [...settings.days_off],
    parcels: settings.parcels.map((one) => ({ name: one.name, kg: String(one.kg), longest: one.longest, price: typedOf(one.price) })),
    market: settings.market.map((one) => ({ piece: one.piece, price: typedOf(one.price), note: one.note })),
  };
}

function packageOf(draft: PackageDraft, list: Packages, at: string): NamedPackage {
  if (!draft.name.trim()) throw new Unfit("It needs a name", `${at}/name`);
  const holds = number(draft.holds, `${at}/holds`);
  if (holds <= 0) throw new Unfit("A package holds more than nothing", `${at}/holds`);
  const all = { name: draft.name.trim(), holds, price: money(draft.price, `${at}/price`), whole: draft.whole };
  return list === "consumables" ? { ...all, with: draft.with } : all;
}

export function settingsOf(draft: SettingsDraft, unit: Unit): ShopSettings {
  const from = <K extends string, V>(keys: readonly K[], read: (key: K) => V) =>
    Object.fromEntries(keys.map((key) => [key, read(key)])) as Record<K, V>;
  return {
    ...from(texts, (key) => draft[key].trim()),
    ...from(sums, (key) => moneyOr0(draft[key], `/${key}`)),
    ...from(figures, (key) => (key === "valid_days" ? whole(draft[key], `/${key}`) : key === "price_old_days" ? whole(draft[key] || "0", `/${key}`, 0) : number(draft[key] || "0", `/${key}`))),
    ...from(lists, (list) => draft[list].map((one, i) => packageOf(one, list, `/${list}/${i}`))),
    fee_on_tax: draft.fee_on_tax,
    hours: draft.hours.map((typed, i) => number(typed || "0", `/hours/${i}`)),
    days_off: draft.days_off.filter(Boolean).map((typed, i) => day(typed, `/days_off/${i}`)),
    parcels: draft.parcels.map((one, i) => {
      if (!one.longest.trim()) throw new Unfit("How long, with its girth, may it be?", `/parcels/${i}/longest`);
      return { name: one.name.trim(), kg: number(one.kg, `/parcels/${i}/kg`), longest: length(one.longest, unit), price: money(one.price, `/parcels/${i}/price`) };
    }),
    market: draft.market.map((one, i) => ({ piece: one.piece.trim(), price: money(one.price, `/market/${i}/price`), note: one.note.trim() })),
  };
}
