// Who works with this device and with which instruments: asked once, remembered here, sent with every record.
import type { Schemas } from '../lib/api';
import { choice, putChoice } from './device';
import type { InstrumentKind } from './kinds';

type Instruments = Partial<Record<InstrumentKind, Schemas['Instrument']>>;

class Person {
  name = $state('');
  role = $state('');
  instruments = $state<Instruments>({});
  loaded: Promise<void>;

  constructor() {
    this.loaded = this.load().catch(() => undefined);
  }

  private async load(): Promise<void> {
    this.name = (await choice<string>('who')) ?? '';
    this.role = (await choice<string>('role')) ?? '';
    this.instruments = (await choice<Instruments>('instruments')) ?? {};
  }

  async keepName(name: string): Promise<void> {
    this.name = name;
    await putChoice('who', name);
  }

  async keepRole(role: string): Promise<void> {
    this.role = role;
    await putChoice('role', role);
  }

  async keepInstrument(kind: InstrumentKind, instrument: Schemas['Instrument'] | null): Promise<void> {
    const { [kind]: _, ...others } = $state.snapshot(this.instruments);
    this.instruments = instrument ? { ...others, [kind]: instrument } : others;
    await putChoice('instruments', $state.snapshot(this.instruments));
  }
}

export const person = new Person();
