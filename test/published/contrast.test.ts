import { describe, expect, test } from "vitest";
import { BAR, DUSK, INK, LIT, MOONLIGHT, NIGHT, NIGHT_HILLS, NIGHT_SKY, PAPER, QUIET, STARLIGHT, STEP_DARK, STEP_PALE, shades, textOn } from "../../reports/pictures/colours.js";
import { contrast } from "../../reports/pictures/contrast.js";

describe("contrast ratio", () => {
  // WCAG 2 definition of relative luminance and contrast ratio; worked values of Manning, "Math for Web Design"
  test.each([
    ["#0000ff", "#ffffff", 8.592471],
    ["#0000ff", "#ff0000", 2.148936],
    ["#767676", "#ffffff", 4.542225],
    ["#777777", "#ffffff", 4.478089],
    ["#949494", "#ffffff", 3.03347],
    ["#959595", "#ffffff", 2.995346],
    ["#000000", "#ffffff", 21],
  ])("%s on %s is %f", (a, b, wanted) => {
    expect(contrast(a, b)).toBeCloseTo(wanted, 5);
    expect(contrast(b, a)).toBeCloseTo(wanted, 5);
  });

  // Okabe and Ito 2002/2008, on white; ratios computed from the WCAG 2 definition
  test.each([
    ["#0072b2", 5.185],
    ["#d55e00", 3.867],
    ["#009e73", 3.421],
    ["#f0e442", 1.322],
  ])("%s on white is %f", (colour, wanted) => {
    expect(Math.abs(contrast(colour, PAPER) - wanted)).toBeLessThan(1e-3);
  });
});

describe("the colours in use", () => {
  // WCAG 2.2, success criteria 1.4.3 (text 4.5:1) and 1.4.11 (graphics 3:1)
  test.each([
    ["text", INK, PAPER],
    ["second rank text", QUIET, PAPER],
    ["step numbers on the dark strip", PAPER, STEP_DARK],
    ["step numbers on the pale strip", INK, STEP_PALE],
  ])("%s reaches 4.5:1", (_what, text, background) => {
    expect(contrast(text, background)).toBeGreaterThanOrEqual(4.5);
  });

  test("names and shares in the night, and outlines of houses, on its sky and every hill", () => {
    for (const ground of [...NIGHT_SKY, ...NIGHT_HILLS]) {
      for (const text of [MOONLIGHT, STARLIGHT]) expect(contrast(text, ground)).toBeGreaterThanOrEqual(4.5);
      expect(contrast(DUSK, ground)).toBeGreaterThanOrEqual(3);
    }
  });

  test("text on every shade of a house reaches 4.5:1", () => {
    for (let count = 1; count <= 8; count++) {
      for (const shade of shades(count)) expect(contrast(textOn(shade), shade)).toBeGreaterThanOrEqual(4.5);
    }
  });

  test.each([
    ["bars on paper", BAR, PAPER],
    ["lit windows in the night", LIT, NIGHT],
    ["outlines of dark houses in the night", DUSK, NIGHT],
    ["one step against the next", STEP_DARK, STEP_PALE],
  ])("%s reach 3:1", (_what, mark, background) => {
    expect(contrast(mark, background)).toBeGreaterThanOrEqual(3);
  });
});
