// What a run or tap is called aloud.
import { word } from '../i18n/words';
import type { Schemas } from '../lib/api';
import { show } from '../lib/quantity';
import type { Context, Mark } from './lenses';

export function runName(run: Schemas['RunView'], mark: Mark, context: Context): string {
  const length = show('length', run.length_m, context.units, context.language);
  const where = word('run_said', {
    id: run.id,
    from: run.from,
    to: run.to,
    length,
    pipe: run.pipe,
    level: run.level,
  });
  return `${where}. ${mark.said}`;
}

export function tapName(outlet: Schemas['OutletView'], mark: Mark | null, context: Context): string {
  const length = show('length', outlet.runout_length_m, context.units, context.language);
  const where = word('tap_said', {
    id: outlet.id,
    fixture: outlet.fixture,
    count: outlet.count,
    node: outlet.node,
    length,
  });
  return mark ? `${where}. ${mark.said || mark.figure}` : where;
}
