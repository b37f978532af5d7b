/** An element of the page; children that are text become text nodes. */
export function element<Name extends keyof HTMLElementTagNameMap>(
  name: Name,
  attributes: Readonly<Record<string, string>> = {},
  ...children: (Node | string)[]
): HTMLElementTagNameMap[Name] {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}

/** A labelled choice. */
export function choice(label: string, options: readonly (readonly [value: string, text: string])[]): { readonly field: HTMLElement; readonly select: HTMLSelectElement } {
  const select = element("select");
  fill(select, options);
  return { field: element("label", { class: "choice" }, element("span", {}, label), select), select };
}

export function fill(select: HTMLSelectElement, options: readonly (readonly [value: string, text: string])[]): void {
  select.replaceChildren(...options.map(([value, text]) => element("option", { value }, text)));
}

export function button(name: string, press: () => void): HTMLButtonElement {
  const made = element("button", { type: "button" }, name);
  made.addEventListener("click", press);
  return made;
}

/** Whether the reader asked for less motion. */
export const still = {
  get matches(): boolean {
    return matchMedia("(prefers-reduced-motion: reduce)").matches;
  },
};
