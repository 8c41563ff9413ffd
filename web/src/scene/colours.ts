// The picture's colours, read from the page's tokens, as the screen has them: nothing is converted for
// each dot, which costs much where no graphics hardware draws.
import { Color } from "three";

import { type ShareBand, shareBands } from "./shares";

export type As = "plain" | "chosen" | "hover" | "fault" | "ghost" | `share-${ShareBand}`;

export interface Colours {
  wood: Record<As, Color>;
  line: Record<As, Color>;
  grid: Color;
  mark: Color;
  cut: Color;
  sheet: Color;
}

export function coloursOf(element: Element): Colours {
  const style = getComputedStyle(element);
  const read = (name: string) =>
    new Color(style.getPropertyValue(name).trim() || "#888888").convertLinearToSRGB();
  const wood = read("--wood");
  const line = read("--wood-line");
  const blue = read("--blue");
  const red = read("--red");
  const ofShares = (colour: (band: ShareBand) => Color) =>
    Object.fromEntries(shareBands.map((band) => [`share-${band}`, colour(band)])) as Record<
      `share-${ShareBand}`,
      Color
    >;
  const towards = (to: Color, part: number) => wood.clone().lerp(to, part);
  return {
    wood: {
      plain: wood,
      chosen: towards(blue, 0.42),
      hover: towards(blue, 0.2),
      fault: towards(red, 0.4),
      ghost: wood,
      ...ofShares((band) => read(`--share-${band}`)),
    },
    line: {
      plain: line,
      chosen: blue,
      hover: blue,
      fault: red,
      ghost: read("--faint"),
      ...ofShares(() => read("--share-line")),
    },
    grid: read("--grid"),
    mark: blue,
    cut: read("--wood-end"),
    sheet: read("--sheet"),
  };
}
