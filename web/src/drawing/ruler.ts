// How wide the drawing sets a text: each letter is measured once in the drawing's own type.
export type Ruler = (text: string, strong: boolean) => number;

const space_svg = 'http://www.w3.org/2000/svg';

export function rulerIn(svg: SVGSVGElement): Ruler {
  const known = new Map<string, number>();
  const measured = (letter: string, strong: boolean): number => {
    const text = document.createElementNS(space_svg, 'text');
    text.setAttribute('class', strong ? 'label strong' : 'label');
    // A blank by itself would be dropped; a hard one is as wide.
    text.textContent = letter === ' ' ? '\u00a0' : letter;
    svg.append(text);
    const width = text.getComputedTextLength();
    text.remove();
    return width;
  };
  return (text, strong) => {
    let sum = 0;
    for (const letter of text) {
      const key = `${letter}${strong}`;
      const width = known.get(key) ?? measured(letter, strong);
      known.set(key, width);
      sum += width;
    }
    return sum;
  };
}
