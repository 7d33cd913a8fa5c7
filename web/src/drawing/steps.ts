/** Round steps that part a range in five. */
export function stepsOf(least: number, most: number): number[] {
  const rough = Math.max(most - least, 1e-9) / 5;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = ([1, 2, 2.5, 5, 10].find((each) => each * power >= rough) ?? 10) * power;
  const first = Math.floor(least / step) * step;
  return [1, 2, 3, 4].map((index) => Number((first + index * step).toPrecision(6)));
}
