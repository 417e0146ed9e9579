import type { Frame } from "playwright-core";

/**
 * How far the ink of elements on a page stands out from the ground behind it, as WCAG 2.2 defines the contrast
 * ratio (from memory): (L1 + 0.05) / (L2 + 0.05) of the relative luminances in sRGB.
 */
export async function contrasts(
  frame: Frame,
  selectors: readonly string[],
): Promise<{ what: string; ratio: number }[]> {
  return frame.evaluate((wanted) => {
    type Colour = readonly [red: number, green: number, blue: number, alpha: number];
    const colour = (text: string): Colour => {
      const [red = 0, green = 0, blue = 0, alpha = 1] = (text.match(/[\d.]+/g) ?? []).map(Number);
      return [red, green, blue, alpha];
    };
    const over = (top: Colour, below: Colour): Colour => {
      const [red, green, blue] = [0, 1, 2].map(
        (i) => (top[i] ?? 0) * top[3] + (below[i] ?? 0) * (1 - top[3]),
      );
      return [red ?? 0, green ?? 0, blue ?? 0, 1];
    };
    const luminance = (of: Colour): number => {
      const [red = 0, green = 0, blue = 0] = of.slice(0, 3).map((channel) => {
        const share = channel / 255;
        return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
      });
      return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
    };
    const ground = (element: Element | null): Colour => {
      if (!element) {
        // The page itself is transparent: the editor's own ground shines through.
        const own = getComputedStyle(document.documentElement).getPropertyValue("--vscode-editor-background");
        const hex = /^#(..)(..)(..)/.exec(own.trim());
        const [red = 255, green = 255, blue = 255] =
          hex?.slice(1).map((two) => Number.parseInt(two, 16)) ?? [];
        return [red, green, blue, 1];
      }
      const own = colour(getComputedStyle(element).backgroundColor);
      return own[3] === 1 ? own : over(own, ground(element.parentElement));
    };
    return wanted.flatMap((selector) =>
      [...document.querySelectorAll(`.wm-sheet ${selector}`)].map((element) => {
        const style = getComputedStyle(element);
        const stroke = element instanceof SVGElement && style.stroke !== "none" ? style.stroke : undefined;
        const below = ground(element);
        const [a, b] = [luminance(over(colour(stroke ?? style.color), below)), luminance(below)];
        const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
        return { what: `${selector}: ${(element.textContent ?? "").trim().slice(0, 30)}`, ratio };
      }),
    );
  }, selectors);
}
