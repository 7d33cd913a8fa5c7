import type { page as english } from './page.en';

export const page: Record<keyof typeof english, string> = {
  jobs: 'Trabajos',
  no_jobs: 'Todavía no hay trabajos',
  loading: 'Cargando',
};
