// What can be wrong with a value or a file of the job, in Spanish, by the server's text; {} stands for what it fills in.
export const jobProblems: Record<string, string> = {
  // numbers, units, prices
  '{} does not start with a number': '{} no empieza con un número',
  '{} has a fraction that divides by zero': '{} tiene una fracción que divide por cero',
  '{} has a number too large to use': '{} tiene un número demasiado grande',
  '{} has a comma in its number: write a decimal point, and no thousands separator':
    '{} tiene una coma en el número: escriba punto decimal y ningún separador de miles',
  '{}; expected {}': '{}; se esperaba {}',
  'empty; expected {}': 'vacío; se esperaba {}',
  '{} is too large to use': '{} es demasiado grande',
  '{} has no unit; write {} with one of: {}': '{} no tiene unidad; escriba {} con una de estas: {}',
  '{}: unknown unit {} for {}; known: {}': '{}: unidad {} desconocida para {}; se conocen: {}',
  'unknown unit {} for {}; known: {}': 'unidad {} desconocida para {}; se conocen: {}',
  '{}: unknown unit {} for {} (did you mean "{}"?); known: {}':
    '{}: unidad {} desconocida para {} (¿quiso decir «{}»?); se conocen: {}',
  '{}: unknown unit {} for {} (it measures {}); known: {}':
    '{}: unidad {} desconocida para {} (mide {}); se conocen: {}',
  '{}: after feet only inches can follow, as in 12\' 6" or "12 ft 6 in"':
    '{}: después de los pies solo pueden ir pulgadas, como en 12\' 6" o "12 ft 6 in"',
  '{}: inches after feet must be from 0 to less than 12':
    '{}: las pulgadas después de los pies van de 0 a menos de 12',
  '"{}" is no plain number': '«{}» no es un número sin más',
  '"{}" is no whole number': '«{}» no es un número entero',
  'yes or no was expected, not "{}"': 'se esperaba yes o no, no «{}»',
  '"{}" is no price: write an amount and what it is for, such as "12.50 per {}"':
    '«{}» no es un precio: escriba un importe y por qué unidad, como "12.50 per {}"',
  '{} is no day of the week; expected "all", or days such as "mon-fri" or "sat,sun"':
    '{} no es un día de la semana; se esperaba "all", o días como "mon-fri" o "sat,sun"',
  '{} is no day of the week (did you mean "{}"?); expected "all", or days such as "mon-fri" or "sat,sun"':
    '{} no es un día de la semana (¿quiso decir «{}»?); se esperaba "all", o días como "mon-fri" o "sat,sun"',
  '{} is no time of the day; write it as "22:00" or "10 pm"':
    '{} no es una hora del día; escríbala como "22:00" o "10 pm"',
  'must be {}': 'debe ser {}',
  'must not be empty': 'no puede estar vacío',
  'is missing': 'falta',
  'add {}': 'añada {}',

  // names
  'an id must not be empty': 'un id. no puede estar vacío',
  'the id "{}" must not begin or end with a blank': 'el id. «{}» no puede empezar ni terminar con un espacio',
  'the id "{}" must not begin with #, which marks a comment':
    'el id. «{}» no puede empezar con #, que marca un comentario',
  'an id must not hold line breaks or other control characters':
    'un id. no puede llevar saltos de línea ni otros caracteres de control',
  '"{}" is not known; expected {}': '«{}» no se conoce; se esperaba {}',
  'there is no {} "{}"': 'no hay {} «{}»',
  'the {} "{}" is there twice': '{} «{}» aparece dos veces',
  'the {} "{}" is there twice, first used on line {}': '{} «{}» aparece dos veces, la primera en la línea {}',
  'give every one an id of its own': 'dé a cada uno un id. propio',
  'none is described yet: add a {} or leave this out': 'todavía no hay: añada {} o déjelo vacío',
  'did you mean "{}"?': '¿quiso decir «{}»?',
  'known: {}': 'se conocen: {}',
  '"{}" is there twice': '«{}» aparece dos veces',
  '"{}" is set aside twice': '«{}» se aparta dos veces',
  'names no run': 'no nombra ningún tramo',
  'names the run "{}" twice': 'nombra dos veces el tramo «{}»',
  'needs at least two runs': 'necesita al menos dos tramos',
  'there is no run "{}"': 'no hay tramo «{}»',
  'put semicolons between the runs': 'separe los tramos con punto y coma',
  'run "{}" is on circuit "{}" too': 'el tramo «{}» está también en el circuito «{}»',
  'a run is on one circuit': 'un tramo está en un solo circuito',
  'there is no use profile "{}"': 'no hay perfil de uso «{}»',
  'add a [[use]], or name one of {}': 'añada un [[use]], o nombre uno de estos: {}',
  'add a [[use]] or leave this out': 'añada un [[use]] o déjelo vacío',

  // pipes and insulation
  'no pipe material given': 'no se dio el material del tubo',
  'unknown pipe material {}; known are {}': 'material de tubo {} desconocido; se conocen {}',
  'unknown pipe material {}; did you mean {}?': 'material de tubo {} desconocido; ¿quiso decir {}?',
  'unknown type {} of {} pipe; known are {}': 'tipo {} desconocido de tubo {}; se conocen {}',
  'unknown type {} of {} pipe; did you mean {}?': 'tipo {} desconocido de tubo {}; ¿quiso decir {}?',
  '{} has no size {}; the nearest is {}': '{} no tiene el tamaño {}; el más cercano es {}',
  '{} has no size {}; the nearest is {} (without a unit inches are meant)':
    '{} no tiene el tamaño {}; el más cercano es {} (sin unidad se entienden pulgadas)',
  '{} {} is made in types {}; say which': '{} {} se fabrica en los tipos {}; diga cuál',
  'no pipe size given; write it as "1-1/4 in", "22 mm" or "22x1"':
    'no se dio el diámetro; escríbalo como "1-1/4 in", "22 mm" o "22x1"',
  'unreadable pipe size {}; write it as "1-1/4 in", "22 mm" or "22x1"':
    'diámetro {} ilegible; escríbalo como "1-1/4 in", "22 mm" o "22x1"',
  'no pipe given; write it as "copper L 1 in" or "copper 22x1"':
    'no se dio el tubo; escríbalo como "copper L 1 in" o "copper 22x1"',
  '{} type {}': '{} tipo {}',
  '{} schedule {}': '{} schedule {}',
  'unknown insulation {}; known are {}': 'aislamiento {} desconocido; se conocen {}',
  'unknown insulation {}; did you mean {}?': 'aislamiento {} desconocido; ¿quiso decir {}?',
  'runout_insulation and runout_thickness go together': 'runout_insulation y runout_thickness van juntos',
  'leave both blank for bare pipe': 'deje los dos vacíos si el tubo va desnudo',

  // what must fit together
  'air_low, air_usual and air_high go together': 'air_low, air_usual y air_high van juntos',
  'give all or none': 'dé los tres o ninguno',
  'give all three': 'dé los tres',
  'must not be above air_usual': 'no puede ser mayor que air_usual',
  'must not be below air_usual': 'no puede ser menor que air_usual',
  'must be above that of level "{}"': 'debe ser mayor que la del nivel «{}»',
  'list the levels from the lowest to the highest': 'ponga los niveles del más bajo al más alto',
  'must not be above stored': 'no puede ser mayor que stored',
  'must be below delivered': 'debe ser menor que delivered',
  'a tank needs the power of its heater': 'un acumulador necesita la potencia de su calentador',
  'the heater is that of a tank; leave both out for one that never runs short':
    'el calentador es el de un acumulador; deje los dos vacíos si nunca se queda corto',
  'must not be above maintain': 'no puede ser mayor que maintain',
  'must be above maintain': 'debe ser mayor que maintain',
  'must be below high_alarm': 'debe ser menor que high_alarm',
  "must be below the group's cutout": 'debe ser menor que el cutout del grupo',
  'control from an entered ambient needs the ambient':
    'el control por ambiente ingresado necesita la temperatura ambiente',
  'sensor_lost = "ambient" needs the ambient': 'sensor_lost = "ambient" necesita la temperatura ambiente',
  "must be the web address of the job's page, without # and ?":
    'debe ser la dirección web de la página del trabajo, sin # ni ?',
  'must be before 24:00': 'debe ser antes de las 24:00',
  'write "00:00"': 'escriba "00:00"',
  'give 24 figures, or say what published profile it is like':
    'dé 24 cifras, o diga a qué perfil publicado se parece',
  'the draws of "{}" at {} are there twice': 'los consumos de «{}» a las {} aparecen dos veces',
  'must be above the cold water': 'debe ser mayor que el agua fría',
  'must rise from value to value': 'debe crecer de valor en valor',
  'a traced run needs a control group': 'un tramo con cable necesita un grupo de control',
  'or say traced = no': 'o escriba traced = no',
  'there is no cable data sheet, but runs are traced':
    'no hay hoja de datos de cable, pero hay tramos con cable',
  'put one file per cable into catalog/': 'ponga en catalog/ un archivo por cable',
  'there is no run in it': 'no hay ningún tramo',
  'one row per pipe run': 'una fila por tramo de tubo',
  'a fixed circuit says where it is fed': 'un circuito fijado dice dónde se alimenta',
  'none of them lies in {}, the year that is priced': 'ninguno cae en {}, el año al que se pone precio',
  'must divide an hour': 'debe dividir una hora',
  '15 min and 30 min are usual': 'lo habitual: 15 min y 30 min',
  '5, 10, 15, 30 and 60 min are usual': 'lo habitual: 5, 10, 15, 30 y 60 min',
  'the season "{}" is there twice': 'la temporada «{}» aparece dos veces',
  'the season "{}" begins on this day, too': 'la temporada «{}» empieza también ese día',
  'must be below highest': 'debe ser menor que highest',
  'must be true': 'debe ser true',
  'an on-off clock does nothing but switch the heating off':
    'un reloj de encendido y apagado solo apaga la calefacción',

  // data sheets
  'the rows must rise in their first column, without repeats':
    'las filas deben crecer en su primera columna, sin repetir',
  'a self-regulating cable gives less on a warmer pipe, never more':
    'un cable autorregulante da menos en un tubo más caliente, nunca más',
  'the table must reach from below to above rated_voltage':
    'la tabla debe ir desde debajo hasta encima de rated_voltage',
  'settled must not be above peak: the current falls as the cable warms':
    'settled no puede ser mayor que peak: la corriente baja al calentarse el cable',
  'the name of a sheet may hold letters, digits, dots, - and _ only':
    'el nombre de una hoja solo puede llevar letras, cifras, puntos, - y _',

  // files
  'this column is missing': 'falta esta columna',
  'add it to the first line': 'añádala a la primera línea',
  'is not a known column': 'no es una columna conocida',
  'this column is there twice': 'esta columna aparece dos veces',
  'this column takes no unit': 'esta columna no lleva unidad',
  '{} cells, but the first line names {}': '{} celdas, pero la primera línea nombra {}',
  'check the separators and put text that holds one in quotes':
    'revise los separadores y ponga entre comillas el texto que contenga uno',
  'the rest of the file was not read': 'el resto del archivo no se leyó',
  'is not TOML here: {}': 'aquí no es TOML: {}',
  'is not a known section': 'no es una sección conocida',
  'is not a known key': 'no es una clave conocida',
  'at least one is needed': 'hace falta al menos uno',
  'add [[{}]]': 'añada [[{}]]',
  '{} was expected': 'se esperaba {}',
  'write [{}]': 'escriba [{}]',
  'write [[{}]]': 'escriba [[{}]]',
  'has no unit: write it in quotes, such as "{} {}"':
    'no tiene unidad: escríbalo entre comillas, como "{} {}"',
  'a quantity in quotes was expected, such as "12 {}"':
    'se esperaba una cantidad entre comillas, como "12 {}"',
  'needs at least one value': 'necesita al menos un valor',
  'needs at least {}': 'necesita al menos {}',
  'needs {} numbers, not {}': 'necesita {} números, no {}',
  'must not be zero throughout': 'no puede ser todo cero',
  'plain numbers of zero or more were expected': 'se esperaban números de cero o más',
  'must be the plain name of a file in the job folder':
    'debe ser el nombre sin más de un archivo de la carpeta del trabajo',
  'must end in .csv or .json': 'debe terminar en .csv o .json',
  '{} is a table of the job itself': '{} es una tabla del propio trabajo',
  'such as "tariff.csv"': 'como "tariff.csv"',
  'the job folder has no file "{}"': 'la carpeta del trabajo no tiene el archivo «{}»',
  'put it beside job.toml': 'póngalo junto a job.toml',
  'the job folder has no such file': 'la carpeta del trabajo no tiene ese archivo',
  'is not a file': 'no es un archivo',
  'there is no such folder': 'no hay tal carpeta',
  'is not a folder': 'no es una carpeta',
  'firstdraw new makes one': 'firstdraw new crea una',
  'give the folder of job.toml': 'dé la carpeta de job.toml',
};
