// What this page talks to and what it may do there.
import { answer, client, Refused, type Schemas } from './api';

/** Comes from the network with neither a pairing nor a link. */
function isStranger(server: Schemas['Server']): boolean {
  return server.lan && !server.is_host && server.device === '' && server.only_job === null;
}

class Who {
  server = $state.raw<Schemas['Server'] | null>(null);
  /** The device has to be paired first. */
  unpaired = $state(false);

  async ask(): Promise<void> {
    try {
      this.server = await answer(client.GET('/api/server'));
      this.unpaired = isStranger(this.server);
    } catch (error) {
      if (error instanceof Refused && error.status === 401) this.unpaired = true;
    }
  }

  /** Known to be allowed to look only: without connection nothing is forbidden, and what is typed is kept. */
  get onlyLooks(): boolean {
    return this.server !== null && !this.server.may_record;
  }

  get mayEdit(): boolean {
    return this.server?.may_edit ?? false;
  }
}

export const who = new Who();
