// Words of the field side: circuits, readings, records, devices.
export const field = {
  circuits: 'Circuits',
} as const;
