// An answer of the server, shown at once as it was last time on this device, and anew when the server answers.
import { Refused } from '../lib/api';
import { answerOf, putAnswer } from './device';

export type Age = 'loading' | 'old' | 'fresh' | 'none';

export class Remembered<T> {
  data = $state.raw<T | null>(null);
  age = $state<Age>('loading');
  at = $state(0);
  error = $state.raw<Error | null>(null);

  constructor(
    private readonly key: string,
    private readonly ask: () => Promise<T>,
  ) {
    void this.load();
  }

  private async load(): Promise<void> {
    const kept = await answerOf(this.key).catch(() => undefined);
    if (kept && this.age === 'loading') {
      this.data = kept.body as T;
      this.at = kept.at;
      this.age = 'old';
    }
    await this.renew();
  }

  async renew(): Promise<void> {
    try {
      this.data = await this.ask();
      this.at = Date.now();
      this.age = 'fresh';
      this.error = null;
      await putAnswer(this.key, this.data, this.at).catch(() => undefined);
    } catch (error) {
      this.error = error instanceof Error ? error : new Error(String(error));
      if (this.error instanceof Refused && this.error.status === 404) this.data = null;
      this.age = this.data === null ? 'none' : 'old';
    }
  }
}
