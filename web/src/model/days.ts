// Days of the calendar, as the books have them: "2026-11-30". The program says which one today is.
const words = new Intl.DateTimeFormat(undefined, { dateStyle: "medium", timeZone: "UTC" });
const brief = new Intl.DateTimeFormat(undefined, { weekday: "short", day: "numeric", month: "short", timeZone: "UTC" });
const oneDay = 86_400_000;

const timeOf = (day: string): number => Date.parse(`${day}T00:00:00Z`);

/** Whether it is a day of the calendar that the books can have. */
export function isDay(day: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(day)) return false;
  const time = timeOf(day);
  return !Number.isNaN(time) && new Date(time).toISOString().startsWith(day) && day >= "1970-01-01" && day <= "2199-12-31";
}

export const dayWords = (day: string): string => (isDay(day) ? words.format(timeOf(day)) : day);
export const dayBrief = (day: string): string => (isDay(day) ? brief.format(timeOf(day)) : day);

export const dayAfter = (day: string, days: number): string =>
  new Date(timeOf(day) + days * oneDay).toISOString().slice(0, 10);

/** How many days lie between: above zero when `to` comes later. */
export const daysFrom = (from: string, to: string): number => Math.round((timeOf(to) - timeOf(from)) / oneDay);

/** "today", "in 3 days", "2 days ago". */
export function awayFrom(today: string, day: string): string {
  const days = daysFrom(today, day);
  if (days === 0) return "today";
  if (Math.abs(days) === 1) return days > 0 ? "tomorrow" : "yesterday";
  return days > 0 ? `in ${days} days` : `${-days} days ago`;
}

/** 95 -> "1 h 35 min". */
export function minutesWords(minutes: number): string {
  const all = Math.round(minutes);
  const [hours, rest] = [Math.floor(all / 60), all % 60];
  if (hours === 0) return `${rest} min`;
  return rest ? `${hours} h ${rest} min` : `${hours} h`;
}

/** "1:35", "1 h 35", "95 min", "1.5 h", "95" in minutes; null when it is no time. */
export function minutesOf(typed: string): number | null {
  const text = typed.trim().toLowerCase().replace(",", ".");
  const clock = /^(\d{1,4})\s*(?::|h)\s*([0-5]?\d)\s*(?:m|min)?$/.exec(text);
  if (clock) return Number(clock[1]) * 60 + Number(clock[2]);
  const plain = /^(\d+(?:\.\d+)?)\s*(h|hours?|m|min|minutes)?$/.exec(text);
  if (!plain) return null;
  return Number(plain[1]) * (plain[2]?.startsWith("h") ? 60 : 1);
}
