/** Size of the page's letters, 1: usual. What is drawn in pixels grows with it. */
export function lettersNow(): number {
  return Number.parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
}
