/** The drawing as an element, without anything in it that could act; null when it is none. */
export function cleaned(text: string): Element | null {
  const drawing = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  if (drawing.localName !== "svg") return null;
  for (const element of [drawing, ...drawing.querySelectorAll("*")]) {
    if (["script", "foreignObject", "iframe", "use", "image", "a"].includes(element.localName)) {
      element.remove();
      continue;
    }
    for (const { name } of [...element.attributes]) {
      if (/^on|href$/i.test(name)) element.removeAttribute(name);
    }
  }
  return document.importNode(drawing, true);
}
