/**
 * Runs in a report that is served: shows it again when it is made again, at the moment, the speed and the place in the page
 * that it was at. While something is being tried out in the page it asks first, since that would be lost; where the file
 * has problems it says so. It is sent as text, so it knows nothing but what is in it. `made`: which making the page is of.
 */
export function keepInStep(made: string): void {
  const KEPT = "lampdrift-place";
  const slider = (): HTMLInputElement | null => document.querySelector('[aria-label="Time of day"]');
  const choice = (name: string): HTMLSelectElement | null =>
    [...document.querySelectorAll("label.choice")].find((label) => label.firstChild?.textContent === name)?.querySelector("select") ?? null;
  const playing = (): HTMLButtonElement | undefined =>
    [...document.querySelectorAll<HTMLButtonElement>('[data-live="player"] button')].find(({ textContent }) => /^(Play|Pause)$/.test(textContent));

  const reload = (): void => {
    // what is hidden has no height, and lies nowhere
    const begun = (one: HTMLElement): boolean => one.offsetHeight > 0 && one.getBoundingClientRect().top <= 1;
    const top = [...document.querySelectorAll<HTMLElement>("section[id]")].filter(begun).at(-1);
    const place = {
      hash: location.hash,
      speed: choice("Speed")?.value ?? null,
      house: choice("Follow a house")?.value ?? null,
      playing: playing()?.textContent === "Pause",
      section: top?.id ?? null,
      scroll: top === undefined ? scrollY : -top.getBoundingClientRect().top,
    };
    sessionStorage.setItem(KEPT, JSON.stringify(place));
    const time = slider();
    // the page itself goes to the moment that its address names
    if (time !== null) history.replaceState(null, "", `#t=${time.value}&opening=${Number(choice("Opening")?.value ?? 0) + 1}`);
    location.reload();
  };

  const restore = (): void => {
    const text = sessionStorage.getItem(KEPT);
    if (text === null) return;
    sessionStorage.removeItem(KEPT);
    const place = JSON.parse(text) as { hash: string; speed: string | null; house: string | null; playing: boolean; section: string | null; scroll: number };
    history.replaceState(null, "", place.hash === "" ? location.pathname : place.hash);
    for (const [name, value] of [["Speed", place.speed], ["Follow a house", place.house]] as const) {
      const select = choice(name);
      if (select === null || value === null || ![...select.options].some((option) => option.value === value)) continue;
      select.value = value;
      select.dispatchEvent(new Event("change"));
    }
    if (place.playing && playing()?.textContent === "Play") playing()!.click();
    const section = place.section === null ? null : document.getElementById(place.section);
    scrollTo({ top: place.scroll + (section === null ? 0 : section.getBoundingClientRect().top + scrollY), behavior: "instant" });
  };

  const bar = document.createElement("div");
  bar.setAttribute("role", "status");
  bar.className = "in-step";
  const style = document.createElement("style");
  style.textContent = `.in-step { position: fixed; inset: auto 0 0; z-index: 9; max-height: 40vh; overflow: auto; padding: 0.6em 1em; }
    .in-step { background: #fff4d6; color: #3a2a00; border-top: 3px solid #b06a00; font: 1rem/1.4 system-ui, sans-serif; white-space: pre-wrap; }
    @media print { .in-step { display: none; } }`;
  document.body.append(style, bar);
  const say = (text: string, ...more: Node[]): void => {
    bar.style.display = text === "" ? "none" : "";
    bar.replaceChildren(text, ...more);
  };

  const ask = (): void => {
    const anyway = document.createElement("button");
    anyway.type = "button";
    anyway.textContent = "Show the new report";
    anyway.onclick = reload;
    say("The file has changed. What is being tried out here would be lost. ", anyway);
  };
  say("");

  const events = new EventSource("/events");
  events.onmessage = ({ data }) => {
    const now = JSON.parse(data as string) as { made: string; problems: string | null };
    if (now.problems !== null) say(`The page is from before; the file now has problems.\n${now.problems}`);
    else if (now.made === made) say("");
    else if (document.documentElement.classList.contains("trying")) ask();
    else reload();
  };
  events.onerror = () => say("Nothing is watched any more: this page stays as it is.");
  history.scrollRestoration = "manual";
  addEventListener("load", restore);
}
