import type { field as english } from './field.en';

export const field: Record<keyof typeof english, string> = {
  circuits: 'Circuitos',
};
