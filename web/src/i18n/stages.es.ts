// How far long work is, in Spanish, by the server's text.
export const stagesEs: Record<string, string> = {
  beginning: 'empezando',
  simulating: 'simulando',
  'trying the sensors elsewhere': 'probando los sensores en otros lugares',
  'one set-point day and night, to compare with': 'una consigna de día y de noche, para comparar',
  'other ways to keep the water hot': 'otras maneras de mantener el agua caliente',
  'what each demand costs': 'lo que cuesta cada exigencia',
  'cost against comfort': 'costo frente a confort',
  'cost against hours in the growth band': 'costo frente a horas en la zona de crecimiento',
  'sensor and insulation': 'sensor y aislamiento',
  'a year of ordinary weeks, and faults planted in it':
    'un año de semanas corrientes, con fallas puestas a propósito',
  'what to read, and what wrong settings do': 'qué leer y qué hacen los ajustes equivocados',
  'the cheapest week, and its proof': 'la semana más barata, y su comprobación',
};
