// Room on this device. The browser is asked once not to clear what is kept.
class Storage {
  full = $state(false);
  lasting = $state(false);

  async ask(): Promise<void> {
    this.lasting = (await navigator.storage?.persist?.().catch(() => false)) ?? false;
  }
}

export const storage = new Storage();
