// What a verdict on supply, control, temperature or a look says, in Spanish, by the server's sentence; {} stands for a
// figure or a name.
export const powerEs: Record<string, string> = {
  // supply and current
  'The circuit is not energised: breaker or contactor open, or a broken conductor.':
    'El circuito no tiene tensión: interruptor o contactor abierto, o un conductor roto.',
  'Look at breaker and contactor first.': 'Mire primero el interruptor y el contactor.',
  'This is a {} V supply where {} V is planned: the breaker takes the wrong poles or phases, or the panel was described wrongly.':
    'Hay una alimentación de {} V donde el plan tiene {} V: el interruptor toma otros polos o fases, o el tablero se describió mal.',
  'Do not energise the cable. Correct the connection in the panel, or the job and its cable.':
    'No energice el cable. Corrija la conexión en el tablero, o el trabajo y su cable.',
  'A weak or overloaded supply, a wrong transformer tap, or a loose connection.':
    'Una alimentación débil o sobrecargada, una toma de transformador equivocada o una conexión floja.',
  'Measure at the panel with and without load and compare.':
    'Mida en el tablero con carga y sin carga y compare.',
  'Nothing is drawn: breaker or contactor open, the controller does not call for heat, or the cable is broken at the power connection.':
    'No pasa corriente: interruptor o contactor abierto, el controlador no pide calor o el cable está roto en la conexión eléctrica.',
  'Look at breaker, contactor and controller, then measure voltage at the power connection.':
    'Mire interruptor, contactor y controlador; después mida la tensión en la conexión eléctrica.',
  'About {} % of the cable does not heat (dead length, a branch not connected), the voltage is low, the pipe is warmer than noted, or the cable has aged.':
    'Alrededor del {} % del cable no calienta (parte muerta, una rama sin conectar), la tensión es baja, el tubo está más caliente de lo anotado o el cable ha envejecido.',
  'Measure the pipe at every branch end, then capacitance.':
    'Mida el tubo al final de cada rama, después la capacitancia.',
  'The pipe is colder than noted, the voltage higher, or another cable is connected.':
    'El tubo está más frío de lo anotado, la tensión es mayor o hay otro cable conectado.',
  'The cable is still warming up, the pipe is colder than noted, the voltage higher, or more or another cable is connected.':
    'El cable todavía se está calentando, el tubo está más frío de lo anotado, la tensión es mayor o hay más cable u otro conectado.',
  'Note minutes since switching on, pipe temperature and voltage and read again; read the marking of the cable on {}.':
    'Anote los minutos desde el encendido, la temperatura del tubo y la tensión, y lea otra vez; lea el marcado del cable en {}.',
  '{} drawn; {} A to {} A expected, settled.': 'Pasan {}; ya estable se esperan de {} A a {} A.',
  '{} drawn; {} A to {} A expected {} min after switching on.':
    'Pasan {}; se esperan de {} A a {} A a los {} min del encendido.',
  'The cable is on a voltage its data sheet does not list.':
    'El cable está a una tensión que su hoja de datos no lista.',
  'Switch off and correct the supply before it is used.':
    'Desconecte y corrija la alimentación antes de usarlo.',
  '{} V at the power connection; {} V to {} V is within the design of {} V.':
    '{} V en la conexión eléctrica; el diseño para {} V admite de {} V a {} V.',
  '{} V at the far end; {} V to {} V expected.': '{} V en el extremo lejano; se esperan de {} V a {} V.',
  'A bus wire is broken before this end: everything beyond is dead.':
    'Un conductor está roto antes de este extremo: lo que sigue está muerto.',
  'More current or more resistance on the way than planned: a bad splice, or a longer or colder cable.':
    'Más corriente o más resistencia en el camino que en el plan: un mal empalme, o un cable más largo o más frío.',
  'The supply is higher than planned, or this is not the farthest end.':
    'La alimentación es mayor que la del plan, o este no es el extremo más lejano.',
  'Measure at the tees and splices on the way.': 'Mida en las derivaciones y empalmes del camino.',
  'The breaker is closed.': 'El interruptor está cerrado.',
  'The breaker is open.': 'El interruptor está abierto.',
  'The circuit is energised before its tests are done.':
    'El circuito tiene tensión antes de terminar sus pruebas.',
  'Open and lock the breaker until the tests before energising have passed.':
    'Abra y bloquee el interruptor hasta que se aprueben las pruebas previas a energizar.',
  'It tripped on a fault or on the cold start, or somebody switched it off.':
    'Disparó por una falla o en el arranque en frío, o alguien lo desconectó.',
  'Measure insulation resistance before it is closed again; never close it against a fault.':
    'Mida la resistencia de aislamiento antes de cerrarlo otra vez; nunca lo cierre contra una falla.',
  'The contactor is closed.': 'El contactor está cerrado.',
  'The contactor is open.': 'El contactor está abierto.',
  'Whether the controller called for heat is not on record: nothing can be said.':
    'No consta si el controlador pedía calor: no se puede decir nada.',
  'Look again and note in the column called whether the controller calls for heat.':
    'Mire otra vez y anote si el controlador pide calor.',
  'The contactor is closed while the controller does not call for heat.':
    'El contactor está cerrado aunque el controlador no pide calor.',
  'The contactor is open while the controller calls for heat.':
    'El contactor está abierto aunque el controlador pide calor.',
  'Welded contacts, or a control wire that bypasses the controller: the cable stays on.':
    'Contactos pegados, o un cable de mando que puentea el controlador: el cable queda encendido.',
  'Switch the circuits off at the breakers: pipe and taps can become hot enough to scald. Have the contactor replaced.':
    'Desconecte los circuitos en los interruptores: tubo y grifos pueden llegar a quemar. Haga cambiar el contactor.',
  'An open coil, no control voltage, or a broken wire from the controller.':
    'Una bobina abierta, falta de tensión de mando o un cable roto desde el controlador.',
  'Measure at the coil while heat is called for; water in unheated pipe cools into the growth band of Legionella.':
    'Mida en la bobina mientras se pide calor; el agua en tubo sin calentar se enfría hasta la banda en que crece la Legionella.',

  // control
  'The controller shows {}; {} to {} expected once settled.':
    'El controlador muestra {}; ya estable se esperan de {} a {}.',
  'The controller shows {}: noted, nothing is expected before it has settled.':
    'El controlador muestra {}: anotado; antes de estabilizarse no se espera nada.',
  "The cable cannot hold the sensor's run, does not heat, or the sensor is off the pipe.":
    'El cable no puede mantener el tramo del sensor, no calienta, o el sensor se ha soltado del tubo.',
  "Read a contact thermometer at the sensor and the circuit's current.":
    'Lea un termómetro de contacto junto al sensor y la corriente del circuito.',
  'Hot water was drawn lately, the contactor stays closed, or the sensor lies beside the cable.':
    'Hace poco se usó agua caliente, el contactor queda cerrado o el sensor está junto al cable.',
  'See whether it falls with the heating off; if the heating does not stop, switch it off at the breakers: water at the taps can scald.':
    'Vea si baja con la calefacción apagada; si no se para, desconéctela en los interruptores: el agua de los grifos puede quemar.',
  'On for {} % of the time; {} % to {} % expected, settled, no water drawn.':
    'Encendido el {} % del tiempo; se esperan de {} % a {} %, estable y sin usar agua.',
  'The plan gives no duty for this group.': 'El plan no da para este grupo la parte del tiempo encendido.',
  'The pipe loses more than planned (insulation wet or missing, colder air), or the cable gives less.':
    'El tubo pierde más que en el plan (aislamiento mojado o ausente, aire más frío), o el cable da menos.',
  "Look along the pipe for wet or missing insulation, then read the circuit's current.":
    'Busque a lo largo del tubo aislamiento mojado o ausente; después lea la corriente del circuito.',
  'Hot water is drawn often, the air is warmer, or the sensor is warmed by the cable.':
    'Se usa mucha agua caliente, el aire está más caliente o el cable calienta el sensor.',
  'Read again at night without draws, and a contact thermometer far from the sensor.':
    'Lea otra vez de noche sin consumo, y un termómetro de contacto lejos del sensor.',
  'The controller is set to {}; {} is maintain, {} setback.':
    'El controlador está a {}; {} es lo mantenido, {} lo reducido.',
  'The controller was set otherwise than the settings sheet says, or another period is in force.':
    'El controlador se ajustó de otro modo que la hoja de ajustes, o rige otro período.',
  'Set it by the settings sheet; a higher set-point makes water at the taps hotter and can scald.':
    'Ajústelo según la hoja de ajustes; una consigna mayor calienta más el agua de los grifos y puede quemar.',
  'Set it by the settings sheet; a lower set-point can leave water in the growth band of Legionella.':
    'Ajústelo según la hoja de ajustes; una consigna menor puede dejar el agua en la banda en que crece la Legionella.',
  'The job enters no ambient for this group: nothing is expected.':
    'El trabajo no da ambiente para este grupo: no se espera nada.',
  '{} is entered as ambient; the settings sheet has {}.':
    'El ambiente ingresado es {}; la hoja de ajustes tiene {}.',
  'Too warm an ambient is entered: the pipe is kept too cold.':
    'El ambiente ingresado es demasiado caliente: el tubo se mantiene demasiado frío.',
  'Too cold an ambient is entered: the pipe is kept too hot, and taps can scald.':
    'El ambiente ingresado es demasiado frío: el tubo se mantiene demasiado caliente y los grifos pueden quemar.',
  'Enter the ambient of the settings sheet, or measure the air and plan again.':
    'Ingrese el ambiente de la hoja de ajustes, o mida el aire y planifique otra vez.',
  'Another cable is fitted: {}.': 'Hay puesto otro cable: {}.',
  'The marking names no cable of the catalogue.': 'El marcado no nombra ningún cable del catálogo.',
  'Do not energise: the cable, its breaker and its settings do not belong together. Replace it, or plan again with the cable that is fitted.':
    'No energice: el cable, su interruptor y sus ajustes no corresponden. Cámbielo, o planifique otra vez con el cable que está puesto.',
  'Compare the marking with the data sheet: type, voltage and output must agree.':
    'Compare el marcado con la hoja de datos: tipo, tensión y potencia deben coincidir.',

  // looks
  'A leak, or insulation that was taken off and not put back: the pipe loses several times what was planned.':
    'Una fuga de agua, o aislamiento quitado y no repuesto: el tubo pierde varias veces lo previsto.',
  'Find and stop the water, replace the insulation, and measure insulation resistance of the cable before it is energised again.':
    'Busque y pare el agua, cambie el aislamiento y mida la resistencia de aislamiento del cable antes de energizarlo otra vez.',
  'The run carries no heating cable.': 'El tramo no lleva cable calefactor.',
  '{} on the jacket of {}; at most {} where insulation is dry.':
    '{} en la cubierta de {}; como máximo {} donde el aislamiento está seco.',
  'Insulation is wet or thin there, or the pipe is hotter than planned.':
    'El aislamiento está mojado o es delgado ahí, o el tubo está más caliente que en el plan.',
  'Measure the pipe under the insulation and the air beside it, and look at the insulation: jacket open, damp, crushed? A bright jacket fools an infra-red thermometer: use a dull tape.':
    'Mida el tubo bajo el aislamiento y el aire de al lado, y mire el aislamiento: ¿cubierta abierta, húmedo, aplastado? Una cubierta brillante engaña al termómetro infrarrojo: use cinta mate.',
  'Insulation on {}: in place and dry.': 'Aislamiento de {}: en su sitio y seco.',
  'Insulation on {}: wet or missing.': 'Aislamiento de {}: mojado o ausente.',
  'Insulation all along {}: in place and dry.': 'Aislamiento a lo largo de {}: en su sitio y seco.',
  'Insulation all along {}: wet or missing.': 'Aislamiento a lo largo de {}: mojado o ausente.',
  "It reads the cable's warmth: the pipes are held too cold.":
    'Lee el calor del cable: los tubos se mantienen demasiado fríos.',
  'It follows the water from the heater, not the traced pipe.':
    'Sigue al agua del calentador, no al tubo con cable.',
  'It reads the air: the cable stays on, and pipes may scald.':
    'Lee el aire: el cable queda encendido y los tubos pueden quemar.',
  'Fix it to the pipe of the run that the plan names, away from the cable, and close the insulation over it.':
    'Fíjelo al tubo del tramo que nombra el plan, lejos del cable, y cierre el aislamiento encima.',

  // temperatures and sensors
  'The kind of the sensor is not known.': 'No se sabe el tipo del sensor.',
  'A broken sensor or lead, a loose terminal, or another kind of sensor.':
    'Un sensor o su cable roto, un borne flojo u otro tipo de sensor.',
  'A short circuit in the lead or at the terminals, or another kind of sensor.':
    'Un cortocircuito en su cable o en los bornes, u otro tipo de sensor.',
  'Measure at the sensor itself, then the lead alone; while the sensor is wrong the controller may heat without end or not at all.':
    'Mida en el propio sensor, después solo su cable; mientras el sensor esté mal, el controlador puede calentar sin fin o nada.',
  '{} is {}; the contact thermometer on {} says {}, ±{} between them is allowed.':
    '{} son {}; el termómetro de contacto en {} dice {}; entre los dos se admite ±{}.',
  '{} is {}; what the controller shows says {}, ±{} between them is allowed.':
    '{} son {}; el controlador muestra {}; entre los dos se admite ±{}.',
  'The sensor lies beside the cable or near a heat source, has lead resistance in series, or is of another kind.':
    'El sensor está junto al cable o cerca de una fuente de calor, tiene en serie la resistencia de su cable o es de otro tipo.',
  'The sensor has lost contact with the pipe or lies outside the insulation, or is of another kind.':
    'El sensor perdió el contacto con el tubo o está fuera del aislamiento, o es de otro tipo.',
  'Open the insulation at the sensor, see that it lies on the pipe opposite the cable, and measure again at its own terminals.':
    'Abra el aislamiento en el sensor, vea que esté en el tubo frente al cable y mida otra vez en sus propios bornes.',
  'It warms too slowly: dead or weak cable on this run, insulation wet or missing, low voltage, or water was drawn.':
    'Se calienta demasiado despacio: cable muerto o débil en este tramo, aislamiento mojado o ausente, tensión baja o se usó agua.',
  "Close the taps below, wait and read again; compare with the runs before it, then measure the circuit's current.":
    'Cierre los grifos de abajo, espere y lea otra vez; compare con los tramos anteriores, después mida la corriente del circuito.',
  'It warms faster than the cable can: hot water was drawn, it began warmer, or another cable lies here.':
    'Se calienta más rápido de lo que puede el cable: se usó agua caliente, empezó más caliente o aquí hay otro cable.',
  'Note the temperature before switching on and draw no water meanwhile; read the marking.':
    'Anote la temperatura antes de encender y no use agua mientras tanto; lea el marcado.',
  '{} {} min after switching on; {} to {} expected.': '{} a los {} min del encendido; se esperan de {} a {}.',
  'Dead or weak cable here, insulation wet or missing, colder air than planned, or water drawn lately.':
    'Cable muerto o débil aquí, aislamiento mojado o ausente, aire más frío que en el plan o agua usada hace poco.',
  "Look at the insulation, read the next runs up and down, then the circuit's current; below the hygiene limit Legionella multiplies: tell who answers for the water.":
    'Mire el aislamiento, lea los tramos vecinos arriba y abajo, después la corriente del circuito; por debajo del límite de higiene la Legionella se multiplica: avise a quien responde por el agua.',
  'The cable stays on (contactor, sensor off the pipe), the set-point is too high, or hot water was drawn lately.':
    'El cable queda encendido (contactor, sensor suelto), la consigna es demasiado alta o hace poco se usó agua caliente.',
  'Compare with what the controller shows; if the heating does not stop, switch it off: water at the taps can scald.':
    'Compare con lo que muestra el controlador; si la calefacción no se para, desconéctela: el agua de los grifos puede quemar.',
  '{} on {}; {} to {} expected at the maintain temperature.':
    '{} en {}; a la temperatura mantenida se esperan de {} a {}.',
  'Water this hot burns skin in about {} s; children and old people faster.':
    'Agua tan caliente quema la piel en unos {} s; a niños y ancianos, antes.',
  'Water this hot burns skin within a second.': 'Agua tan caliente quema la piel en menos de un segundo.',
  "The sensor answers; whether it tells the pipe's temperature is not shown.":
    'El sensor responde; no está demostrado que dé la temperatura del tubo.',
  'No pipe is at this temperature: lead, terminal or another kind of sensor.':
    'Ningún tubo está a esta temperatura: su cable, un borne u otro tipo de sensor.',
  'Read a contact thermometer on {} at the sensor on the same visit.':
    'Lea en la misma visita un termómetro de contacto en {}, junto al sensor.',
  'Colder than assumed: the cable may not hold the pipe, and open-loop duty is too low.':
    'Más frío de lo supuesto: el cable quizá no mantiene el tubo, y el control sin sensor calienta poco.',
  'Warmer than assumed: pipes get hotter than planned when the cable stays on.':
    'Más caliente de lo supuesto: los tubos se calientan más que en el plan si el cable queda encendido.',
  'Correct the air temperatures of the space in job.toml and plan again.':
    'Corrija las temperaturas del aire del espacio en job.toml y planifique otra vez.',
  'The safe-outlet valve is set too high or does not close.':
    'La válvula termostática está ajustada demasiado alta o no cierra.',
  '{} at {} after {} min; at most {}.': '{} en {} a los {} min; como máximo {}.',
  '{} at {} after {} min; at most {}; at least {}.': '{} en {} a los {} min; como máximo {}; como mínimo {}.',
  '{} at {}; at most {}.': '{} en {}; como máximo {}.',
  '{} at {}; at most {}; at least {}.': '{} en {}; como máximo {}; como mínimo {}.',
  'The water is hotter than this outlet may give.':
    'El agua está más caliente de lo que este grifo puede dar.',
  'Put the tap out of use until a safe-outlet (thermostatic) valve is fitted or set.':
    'Ponga el grifo fuera de uso hasta que tenga una válvula termostática bien ajustada.',
  'The pipe before the tap is too cold, too long a runout, or cold water gets in by a mixer.':
    'El tubo antes del grifo está demasiado frío, el ramal es demasiado largo o entra agua fría por un mezclador.',
  'Read the pipe of the last traced run; water that stays lukewarm lets Legionella multiply: tell who answers for the water.':
    'Lea el tubo del último tramo con cable; el agua que queda tibia deja multiplicarse a la Legionella: avise a quien responde por el agua.',
  'The reading belongs to an earlier plan, or its place was written wrongly.':
    'La lectura es de un plan anterior, o su lugar se escribió mal.',
  'Record it again with the name that the plan uses now.':
    'Regístrela otra vez con el nombre que el plan usa ahora.',

  // over the years
  'Moisture is getting in, or the jacket was hurt since the earlier test.':
    'Entra humedad, o la cubierta se dañó después de la prueba anterior.',
  'Find it while it is small: test branch by branch, look at end seals, splices and the work done since.':
    'Encuéntrelo mientras es poco: pruebe rama por rama, mire sellos de extremo, empalmes y lo que se trabajó desde entonces.',
  'The cable has aged or was overheated, or part of it has gone dead.':
    'El cable ha envejecido o se sobrecalentó, o una parte ha muerto.',
  'Measure the installed length by capacitance; if it is unchanged the cable ages: read the pipe at the coldest places.':
    'Mida la longitud instalada por capacitancia; si no ha cambiado, el cable envejece: lea el tubo en los lugares más fríos.',
  'Cable was cut, or bus wires broke, since the earlier test.':
    'Desde la prueba anterior se cortó cable o se rompieron conductores.',
  'Cable was added that no drawing shows, or moisture got in.':
    'Se añadió cable que ningún dibujo muestra, o entró humedad.',
  'Measure from the far end too: the two lengths add up at the break.':
    'Mida también desde el extremo lejano: en la rotura las dos longitudes se suman.',
  'Ask what was done since; measure insulation resistance and correct the drawing.':
    'Pregunte qué se hizo desde entonces; mida la resistencia de aislamiento y corrija el dibujo.',
};
