import type { Schemas } from '../../lib/api';

export interface StageOf {
  name: string;
  asks: Schemas['Ask'][];
}

/** The tests by stage, in the order of work; what a diagnosis asked for comes last. */
export function stagesOf(asks: Schemas['Ask'][]): StageOf[] {
  const stages: StageOf[] = [];
  for (const ask of asks) {
    const known = stages.find((stage) => stage.name === ask.stage_name);
    if (known) known.asks.push(ask);
    else stages.push({ name: ask.stage_name, asks: [ask] });
  }
  return stages;
}
