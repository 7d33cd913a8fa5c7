// Prices of a week by quarter hour: how they range, and in which stretches they are alike. Pure.
export interface PricePiece {
  day: number;
  /** Minutes of the day. */
  from: number;
  to: number;
  /** 0: the lowest of the week, 1: the highest. */
  share: number;
}

const minutes = 15;
const steps_a_day = 96;
/** Prices are rounded to this by the server. */
const grain = 1e-5;

export function rangeOf(prices: number[]): { low: number; high: number } {
  return prices.length ? { low: Math.min(...prices), high: Math.max(...prices) } : { low: 0, high: 0 };
}

export function isFlat(prices: number[]): boolean {
  const { low, high } = rangeOf(prices);
  return high - low <= 1.5 * grain;
}

/** Empty when the price is the same at all hours. */
export function pricePieces(prices: number[]): PricePiece[] {
  if (isFlat(prices)) return [];
  const { low, high } = rangeOf(prices);
  const pieces: PricePiece[] = [];
  prices.forEach((price, step) => {
    const day = Math.floor(step / steps_a_day);
    const from = (step % steps_a_day) * minutes;
    const share = (price - low) / (high - low);
    const last = pieces[pieces.length - 1];
    if (last && last.day === day && last.share === share) last.to = from + minutes;
    else pieces.push({ day, from, to: from + minutes, share });
  });
  return pieces;
}
