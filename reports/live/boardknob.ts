import type { Scenario } from "../../sim/model/scenario.js";
import { duration } from "../../sim/units/quantities.js";
import { spokenDuration } from "../../sim/units/text.js";
import { KnobDial } from "./dial.js";
import { element } from "./dom.js";
import { nearestStep, type StepSlider } from "./stepslider.js";

/** Another step time for the board; null: the one that the text has. */
export type Turn = (seconds: number | null) => void;

/** One board with its dial, slider and field; they say and do the same. */
export class BoardKnob {
  readonly root: HTMLElement;
  private readonly dial: KnobDial | null;
  private readonly slider: HTMLInputElement;
  private readonly field: HTMLInputElement;
  private readonly planned = element("p", { class: "planned" });
  private readonly tried = element("p", { class: "tried" });
  private readonly wrong: HTMLElement;

  constructor(
    scenario: Scenario,
    b: number,
    private readonly span: StepSlider,
    private readonly turn: Turn,
  ) {
    const { id, timer } = scenario.boards[b]!;
    const { least, most, grain } = span;
    this.dial =
      timer.kind === "astable"
        ? new KnobDial(document, scenario, b, { to: (seconds) => this.turnTo(seconds), by: (grains) => this.turnTo(this.slider.valueAsNumber + grains * grain) })
        : null;
    this.slider = element("input", { type: "range", "aria-label": `Step time of ${id}`, min: String(least), max: String(most), step: String(grain) });
    this.slider.addEventListener("input", () => this.turnTo(this.slider.valueAsNumber));
    this.wrong = element("p", { class: "wrong", id: `wrong-${b + 1}`, role: "alert" });
    this.field = element("input", { type: "text", "aria-label": `Type a step time for ${id}`,
      "aria-describedby": this.wrong.id, autocomplete: "off", spellcheck: "false" });
    this.field.addEventListener("change", () => this.type());
    this.root = element(
      "div",
      { class: "knob", role: "group", "aria-label": `Board ${id}` },
      element("h3", {}, id),
      ...(this.dial === null ? [] : [this.dial.svg]),
      this.slider,
      this.field,
      this.wrong,
      this.planned,
      this.tried,
    );
  }

  /** Shows the step time that is planned and the one that is tried, seconds. */
  show(planned: number, tried: number): void {
    this.dial?.show(planned, tried);
    const same = tried === planned;
    const [was, is] = [stepText(planned), stepText(tried)];
    this.slider.value = String(tried);
    this.slider.setAttribute("aria-valuetext", same ? `${is}, as planned` : `${is}; planned: ${was}`);
    if (document.activeElement !== this.field || this.field.ariaInvalid === null) this.field.value = is;
    this.planned.textContent = `Planned: ${was}`;
    this.tried.textContent = same ? "Tried: as planned" : `Tried: ${is}`;
    this.root.classList.toggle("turned", !same);
  }

  private turnTo(seconds: number): void {
    const next = nearestStep(this.span, seconds);
    this.turn(next === nearestStep(this.span, this.span.now) ? null : next);
  }

  private type(): void {
    const seconds = duration.parse(this.field.value);
    const { least, most, grain } = this.span;
    const right = seconds !== null && seconds >= least - grain && seconds <= most + grain;
    this.wrong.textContent = right ? "" : `Expected ${duration.accepted}, from ${stepText(least)} to ${stepText(most)}.`;
    this.field.toggleAttribute("aria-invalid", !right);
    if (right) this.turnTo(seconds);
  }
}

/** A step time exactly, where it is short to say; else rounded. */
function stepText(seconds: number): string {
  const exact = duration.format(seconds);
  return exact.length <= "1 h 59 min 59.9 s".length ? exact : spokenDuration(seconds);
}
