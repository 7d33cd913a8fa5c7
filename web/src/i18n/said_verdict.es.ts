// What a verdict suspects and what to do next, in Spanish, by the server's sentence; {} stands for a figure or a name.
export const verdictEs: Record<string, string> = {
  'Switch off, lock out and prove dead before anything is opened; a licensed electrician works on it.':
    'Desconecte, bloquee y compruebe la ausencia de tensión antes de abrir nada; el trabajo es de un electricista autorizado.',
  'Discharge the cable after the test; nobody may be in reach of it meanwhile.':
    'Descargue el cable después de la prueba; nadie puede estar a su alcance mientras tanto.',

  // insulation
  '{} at {} V dc; at least {} at any length is wanted.':
    '{} a {} V cc; se pide al menos {} con cualquier longitud.',
  '{}; at least {} at any length is wanted.': '{}; se pide al menos {} con cualquier longitud.',
  '{} at {} V dc; at least {} for supply wiring is wanted.':
    '{} a {} V cc; se pide al menos {} para el cableado de alimentación.',
  '{}; at least {} for supply wiring is wanted.': '{}; se pide al menos {} para el cableado de alimentación.',
  'The test may have been made at too low a voltage.':
    'La prueba quizá se hizo con una tensión demasiado baja.',
  'Repeat it at {} V dc or more and write the voltage down.': 'Repítala a {} V cc o más y anote la tensión.',
  'A weak place in the insulation does not show at so low a voltage.':
    'Con una tensión tan baja no se ve un punto débil del aislamiento.',
  'Repeat it at {} V dc or more.': 'Repítala a {} V cc o más.',
  'The test voltage may have been more than the insulation is made for.':
    'La tensión de prueba quizá fue mayor de la que admite el aislamiento.',
  "Look up the cable maker's test voltage and repeat the test at {} V dc or what the maker allows.":
    'Busque la tensión de prueba del fabricante y repita la prueba a {} V cc o lo que él permita.',
  'Moisture in an end seal, splice or power connection, or a hurt jacket.':
    'Humedad en un sello de extremo, empalme o conexión eléctrica, o una cubierta dañada.',
  "The tester's own error reaches over the limit: moisture or a hurt jacket cannot be ruled out.":
    'El error del propio instrumento pasa del límite: no se descarta humedad o una cubierta dañada.',
  'Do not energise. Open and dry the connections, test each branch alone to find the bad one, repair it and test again.':
    'No energice. Abra y seque las conexiones, pruebe cada rama sola para hallar la mala, repárela y pruebe otra vez.',
  'Moist or hurt supply wiring, or something still connected to it.':
    'Cableado de alimentación húmedo o dañado, o algo que sigue conectado a él.',
  'Disconnect the heating cable and all electronics and test again, conductor by conductor.':
    'Desconecte el cable calefactor y toda la electrónica y pruebe otra vez, conductor por conductor.',

  // length, loop, earth
  'Before the join is opened again: switch off, lock out and prove dead; fit the end seal afterwards.':
    'Antes de abrir otra vez la unión: desconecte, bloquee y compruebe la ausencia de tensión; después ponga el sello de extremo.',
  '{} means {} of cable; the plan has {}, ±{} counted.':
    '{} significa {} de cable; el plan tiene {}, contando ±{}.',
  'Less cable is connected than planned: cut short, a branch left off, or bus wires broken on one of the branches.':
    'Hay conectado menos cable que en el plan: cortado, una rama sin conectar o conductores rotos en una de las ramas.',
  'Less cable is connected than planned: cut short, a branch left off, or bus wires broken about {} from the feed.':
    'Hay conectado menos cable que en el plan: cortado, una rama sin conectar o conductores rotos a unos {} de la alimentación.',
  'Measure again from the far end: the two lengths add up at a break. Look at the splices and tees on the way.':
    'Mida otra vez desde el extremo lejano: en una rotura las dos longitudes se suman. Mire los empalmes y derivaciones del camino.',
  'More cable is connected than planned: cable that nobody drew, more passes, or another cable type.':
    'Hay conectado más cable que en el plan: cable que nadie dibujó, más pasadas u otro tipo de cable.',
  'Read the marking, follow the cable along the pipe and correct runs.csv; a longer circuit may need another breaker.':
    'Lea el marcado, siga el cable por el tubo y corrija runs.csv; un circuito más largo puede necesitar otro interruptor.',
  '{} between the bus wires; about {} was expected.':
    '{} entre los conductores del cable; se esperaban unos {}.',
  'A bus wire is broken close to the feed, or the cable is not connected.':
    'Un conductor del cable está roto cerca de la alimentación, o el cable no está conectado.',
  'Open the power connection and measure the cable itself.':
    'Abra la conexión eléctrica y mida el cable solo.',
  '{} fits no length of this cable; about {} was expected.':
    '{} no corresponde a ninguna longitud de este cable; se esperaban unos {}.',
  'The far end is not joined, or both readings were taken with the ends alike.':
    'El extremo lejano no está unido, o las dos lecturas se hicieron con los extremos iguales.',
  'Join every far end and measure again.': 'Una todos los extremos lejanos y mida otra vez.',
  '{} between the bus wires with open ends; {} to {} expected.':
    '{} entre los conductores con los extremos abiertos; se esperaban de {} a {}.',
  'The bus wires touch somewhere, an end is still joined, or more cable is connected.':
    'Los conductores se tocan en algún punto, un extremo sigue unido o hay más cable conectado.',
  'Less cable is connected than planned, another cable type, or a warm cable.':
    'Hay conectado menos cable que en el plan, otro tipo de cable, o el cable está caliente.',
  "See that every end is open and sealed, write down the cable's temperature and measure again; then measure capacitance.":
    'Vea que todos los extremos estén abiertos y sellados, anote la temperatura del cable y mida otra vez; después mida la capacitancia.',
  'The loop is closed to its far end.': 'El lazo está cerrado hasta su extremo lejano.',
  'The loop is open although the far end is joined.':
    'El lazo está abierto aunque el extremo lejano está unido.',
  'A broken bus wire, an open splice or tee, or a join at the far end that does not touch.':
    'Un conductor roto, un empalme o derivación abiertos, o una unión del extremo lejano que no hace contacto.',
  'Make the join again; if the loop stays open measure capacitance from both ends, which says where.':
    'Rehaga la unión; si el lazo sigue abierto mida la capacitancia desde los dos extremos: eso dice dónde.',
  '{} from the braid to the earth bar; at most {} is expected.':
    '{} de la malla a la barra de tierra; se espera como máximo {}.',
  'The braid is not connected through at a splice, a tee or the power connection.':
    'La malla no tiene continuidad en un empalme, una derivación o la conexión eléctrica.',
  'Do not energise: without the earth path the ground-fault protection cannot work. Follow the braid from connection to connection.':
    'No energice: sin camino a tierra la protección de falla a tierra no puede actuar. Siga la malla de conexión en conexión.',

  // protection
  'Do not leave the circuit energised: have the device replaced and test the new one.':
    'No deje el circuito energizado: haga cambiar el dispositivo y pruebe el nuevo.',
  "The device is too sensitive for this use, of the wrong type, or the standing leakage of the circuit was added to the tester's current.":
    'El dispositivo es demasiado sensible para este uso, de otro tipo, o la fuga permanente del circuito se sumó a la corriente del comprobador.',
  "Repeat with the heating cable disconnected; if it stays low check the device's type and setting.":
    'Repita con el cable calefactor desconectado; si sigue baja revise el tipo y el ajuste del dispositivo.',
  'The device is set too high, of the wrong type, or faulty.':
    'El dispositivo está ajustado demasiado alto, es de otro tipo o está averiado.',
  'Opened at {}; {} to {} is the band, the circuit is planned for {}.':
    'Abrió a {}; la banda es de {} a {}, el circuito está previsto para {}.',
  'The device opens above the setting that the circuit is planned for.':
    'El dispositivo abre por encima del ajuste previsto para el circuito.',
  'Check the setting of the device against the circuit schedule.':
    'Compare el ajuste del dispositivo con la tabla de circuitos.',
  '{} at {} times the rated current: no limit is set below the rated current.':
    '{} a {} veces la corriente asignada: por debajo de la asignada no hay límite.',
  'The test current was below the rated one.': 'La corriente de prueba fue menor que la asignada.',
  'Repeat at 1 and at 5 times the rated current.': 'Repita a 1 y a 5 veces la corriente asignada.',
  'Opened after {}; at most {} at {} times the rated current, general type.':
    'Abrió a los {}; como máximo {} a {} veces la corriente asignada, tipo general.',
  'A slow or delayed device, or a tester current below the one noted.':
    'Un dispositivo lento o retardado, o una corriente de prueba menor que la anotada.',
  'The test button opened the device and it reset.': 'El botón de prueba abrió el dispositivo y se rearmó.',
  'The test button did not open the device, or it did not reset.':
    'El botón de prueba no abrió el dispositivo, o no se rearmó.',
  'The device is faulty, or was not energised while it was tested.':
    'El dispositivo está averiado, o no tenía tensión cuando se probó.',
  '{} to earth; at most {} % of the {} setting, {}, is allowed.':
    '{} a tierra; se permite como máximo el {} % del ajuste de {}: {}.',
  'Moisture or a hurt jacket, or more cable behind the device than planned.':
    'Humedad o una cubierta dañada, o más cable tras el dispositivo que en el plan.',
  'Measure insulation resistance of the circuit, branch by branch.':
    'Mida la resistencia de aislamiento del circuito, rama por rama.',
  'More leaks than the capacitance of the cable explains ({}): moisture, or other loads within the clamp.':
    'Se fuga más de lo que explica la capacitancia del cable ({}): humedad, u otras cargas dentro de la pinza.',
  'Clamp both supply conductors of this circuit alone; if it stays, measure insulation resistance.':
    'Abrace con la pinza solo los dos conductores de este circuito; si sigue igual, mida la resistencia de aislamiento.',

  // what weakens a record
  'the serial number of the instrument is not on record':
    'el número de serie del instrumento no está registrado',
  'the reading has no date: whether the calibration (due {}) was valid cannot be said':
    'la lectura no tiene fecha: no se puede decir si la calibración (vence {}) valía',
  'the calibration of {} was overdue: due {}, read {}':
    'la calibración de {} estaba vencida: venció {}, leído {}',
  'the test voltage is not on record: at least {} V dc is asked for':
    'la tensión de prueba no está registrada: se piden al menos {} V cc',
  'tested at {} V dc: at least {} V dc is asked for ({})':
    'probado a {} V cc: se piden al menos {} V cc ({})',
  "tested at {} V dc, above {} V dc: the cable maker's instructions say what it bears":
    'probado a {} V cc, por encima de {} V cc: las instrucciones del fabricante del cable dicen lo que aguanta',
  "the US code gives no time for equipment ground-fault protection: the IEC times are for comparison, the device's instructions decide":
    'el código de EE. UU. no da tiempos para la protección de equipos contra falla a tierra: los tiempos IEC son para comparar, deciden las instrucciones del dispositivo',
  "the meter's error, {}, is large against this current: loop the conductor several times through the clamp and divide":
    'el error del instrumento, {}, es grande para esta corriente: pase el conductor varias veces por la pinza y divida',
  'the data sheet of {} does not list {} V': 'la hoja de datos de {} no menciona {} V',
  'length {}': 'longitud {}',
  'sensor at {}': 'sensor a {}',
  'water above 50 °C (122 °F): Water this hot burns skin within a second.':
    'agua a más de 50 °C (122 °F): agua tan caliente quema la piel en menos de un segundo.',
  'water above 50 °C (122 °F): Water this hot burns skin in about {} s; children and old people faster.':
    'agua a más de 50 °C (122 °F): agua tan caliente quema la piel en unos {} s; a niños y ancianos, antes.',
};
