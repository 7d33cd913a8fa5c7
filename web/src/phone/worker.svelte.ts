// The page's side of the service worker: is the page here without connection, is there a newer one?
export type Shell = 'none' | 'not-secure' | 'refused' | 'installed';

class Worker {
  shell = $state<Shell>('none');
  /** A newer page waits for the person's word. */
  newer = $state.raw<ServiceWorker | null>(null);

  async register(): Promise<void> {
    if (!isSecureContext || !navigator.serviceWorker) {
      this.shell = 'not-secure';
      return;
    }
    try {
      this.follow(await navigator.serviceWorker.register('/sw.js'));
      this.shell = 'installed';
    } catch {
      this.shell = 'refused'; // a certificate that the browser does not trust, or a private window
    }
  }

  private follow(registration: ServiceWorkerRegistration): void {
    const look = () => {
      this.newer = navigator.serviceWorker.controller ? registration.waiting : null;
    };
    look();
    registration.addEventListener('updatefound', () =>
      registration.installing?.addEventListener('statechange', look),
    );
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState === 'visible') void registration.update().catch(() => undefined);
    });
  }

  takeOver(): void {
    navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true });
    this.newer?.postMessage('take-over');
  }
}

export const worker = new Worker();
