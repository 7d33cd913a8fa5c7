// Causes of a diagnosis in Spanish, by their ids and the server's sentences; {} stands for a figure or a name.
export const causeNames: Record<string, string> = {
  nothing: 'Todo está como en el plan',
  'dead-length': 'Una parte del cable está muerta',
  'wrong-voltage': 'El cable recibe otra tensión',
  'wrong-cable': 'Hay puesto otro cable',
  'wet-insulation': 'El aislamiento está mojado',
  'missing-insulation': 'Falta aislamiento',
  'sensor-beside-cable': 'El sensor está junto al cable',
  'sensor-upstream': 'El sensor está en el tubo antes del cable',
  'sensor-unplugged': 'El controlador no tiene sensor',
  'sensor-off-pipe': 'El sensor se ha soltado del tubo',
  'wrong-ambient': 'Se ingresó otra temperatura del aire',
  'wrong-cable-entered': 'Al controlador se le dio otro cable',
  'contactor-stuck-on': 'El contactor queda cerrado',
  'contactor-stuck-off': 'El contactor queda abierto',
  'breaker-open': 'El interruptor está abierto',
  'ageing-cable': 'El cable ha envejecido',
  'colder-air': 'El aire está más frío de lo supuesto',
  'none-of-these': 'Algo que no está en esta lista',
};

export const causesEs: Record<string, string> = {
  'The readings are what the plan expects.': 'Las lecturas son las que espera el plan.',
  'The cable is dead from {} (9 in 10: {} to {}) along its way from the feed on, in {} or near it.':
    'El cable está muerto desde {} (9 de 10: de {} a {}) de su camino desde la alimentación, en {} o cerca.',
  'The cable of {} gets {} (9 in 10: {} to {}).': 'El cable de {} recibe {} (9 de 10: de {} a {}).',
  'Cable {} is fitted on {} instead of the planned one.': 'En lugar del cable del plan hay puesto {} en {}.',
  'The insulation of {} is wet: it conducts {} (9 in 10: {} to {}) times as much.':
    'El aislamiento de {} está mojado: conduce {} (9 de 10: de {} a {}) veces más.',
  '{} has no insulation.': '{} no tiene aislamiento.',
  'The sensor of {} lies beside the cable and reads too high: pipes are held too cold.':
    'El sensor de {} está junto al cable y lee de más: los tubos se mantienen demasiado fríos.',
  'The sensor of {} sits on pipe without cable and follows the water from the heater.':
    'El sensor de {} está en tubo sin cable y sigue al agua del calentador.',
  'The controller of {} gets nothing from its sensor.': 'El controlador de {} no recibe nada de su sensor.',
  'The sensor of {} has come off and reads the air: the cable is on all the time.':
    'El sensor de {} se ha soltado y lee el aire: el cable está siempre encendido.',
  'The controller of {} was told air of {} (9 in 10: {} to {}).':
    'Al controlador de {} se le dio un aire de {} (9 de 10: de {} a {}).',
  'The controller of {} was told cable {}.': 'Al controlador de {} se le dio el cable {}.',
  'The contactor of {} stays closed: the cable is on all the time.':
    'El contactor de {} queda cerrado: el cable está siempre encendido.',
  'The contactor of {} does not close.': 'El contactor de {} no cierra.',
  'The breaker of {} is open.': 'El interruptor de {} está abierto.',
  "The cable of {} gives {} (9 in 10: {} to {}) of its data sheet's output.":
    'El cable de {} da {} (9 de 10: de {} a {}) de la potencia de su hoja de datos.',
  'The air of {} is colder than assumed by {} (9 in 10: {} to {}).':
    'El aire de {} está más frío de lo supuesto en {} (9 de 10: de {} a {}).',
  'Something that this list does not hold, or a wrong reading: check the readings and the plan first.':
    'Algo que no está en esta lista, o una lectura mala: revise primero las lecturas y el plan.',

  'Keep the readings as the record of a sound circuit.':
    'Guarde las lecturas como registro de un circuito sano.',
  "Isolate and lock out; measure capacitance from the feed to find the place, look for a cut or a loose tee there, and replace that length with the cable maker's kits.":
    'Aísle y bloquee; mida la capacitancia desde la alimentación para hallar el lugar, busque ahí un corte o una derivación floja y cambie esa parte con los juegos del fabricante.',
  'Measure at panel and power connection, check the taps and the phases; isolate before changing a connection.':
    'Mida en el tablero y en la conexión eléctrica, revise tomas y fases; aísle antes de cambiar una conexión.',
  'Read the marking on the jacket; plan again with that sheet, or replace the cable.':
    'Lea el marcado de la cubierta; planifique otra vez con esa hoja, o cambie el cable.',
  'Find where the water comes from, let the insulation be replaced and its jacket closed.':
    'Busque de dónde viene el agua; haga cambiar el aislamiento y cerrar su cubierta.',
  'Have the insulation put back; bare hot pipe burns.':
    'Haga reponer el aislamiento; el tubo caliente desnudo quema.',
  'Move the sensor opposite the cable and close the insulation over it; then measure the pipe again.':
    'Mueva el sensor frente al cable y cierre el aislamiento encima; después mida el tubo otra vez.',
  'Move the sensor onto the traced pipe that the plan names.':
    'Mueva el sensor al tubo con cable que nombra el plan.',
  "Isolate; check the sensor's terminals and its resistance.":
    'Aísle; revise los bornes del sensor y su resistencia.',
  'Isolate the cable now: pipes may scald. Fix the sensor to the pipe and close the insulation.':
    'Aísle el cable ahora: los tubos pueden quemar. Fije el sensor al tubo y cierre el aislamiento.',
  'Enter what the settings sheet says, and read it back.':
    'Ingrese lo que dice la hoja de ajustes, y léalo de vuelta.',
  'Isolate the circuit now: pipes may scald. Replace the contactor.':
    'Aísle el circuito ahora: los tubos pueden quemar. Cambie el contactor.',
  "Check the coil's supply and the controller's output; replace the contactor if it gets voltage and stays open.":
    'Revise la alimentación de la bobina y la salida del controlador; cambie el contactor si recibe tensión y queda abierto.',
  'Find out why it opened (insulation resistance first) before it is closed again.':
    'Averigüe por qué abrió (primero resistencia de aislamiento) antes de cerrarlo otra vez.',
  'Compare with the currents of earlier visits at like temperature; plan for replacement.':
    'Compare con las corrientes de visitas anteriores a igual temperatura; prevea cambiarlo.',
  'Measure the air over some days; plan again with it, or keep the draught out.':
    'Mida el aire durante unos días; planifique otra vez con él, o cierre la corriente de aire.',
  'Repeat the readings with another instrument, and compare what was built with the plan.':
    'Repita las lecturas con otro instrumento, y compare lo construido con el plan.',
};

/** How the next measurement is done. */
export const measuringEs: Record<string, string> = {
  'Parts are under voltage: a licensed electrician measures, with the instrument and protection that this takes.':
    'Hay partes con tensión: mide un electricista autorizado, con el instrumento y la protección que hacen falta.',
  'Prove it dead before touching it.': 'Compruebe la ausencia de tensión antes de tocarlo.',
  'Look whether the contactor is in while the controller calls for heat.':
    'Mire si el contactor está cerrado mientras el controlador pide calor.',
  'Set the controller so that it does not call, and look whether the contactor drops out.':
    'Ajuste el controlador para que no pida calor, y mire si el contactor abre.',
  'Clamp meter round one conductor of the circuit while the controller calls for heat, with pipe temperature and voltage noted at the same time.':
    'Pinza amperimétrica en un conductor del circuito mientras el controlador pide calor, anotando a la vez temperatura del tubo y tensión.',
  'Between the two conductors at the power connection while the circuit is on.':
    'Entre los dos conductores de la conexión eléctrica con el circuito encendido.',
  'Between the bus wires at the far end: isolate and lock out, open the end seal, energise for the reading only, isolate again and fit a new seal.':
    'Entre los conductores en el extremo lejano: aísle y bloquee, abra el sello de extremo, energice solo para leer, aísle otra vez y ponga un sello nuevo.',
  'Isolate and lock out, disconnect the cable at the power connection, tie both bus wires together and measure to the braid.':
    'Aísle y bloquee, desconecte el cable en la conexión eléctrica, una los dos conductores y mida contra la malla.',
  'Isolate and lock out, disconnect the cable, bus wires tied together to the braid at the test voltage of the cable maker; discharge it afterwards.':
    'Aísle y bloquee, desconecte el cable; los conductores unidos contra la malla a la tensión de prueba del fabricante; descargue después.',
  'Isolate and lock out, join the bus wires at every far end, measure between them at the feed.':
    'Aísle y bloquee, una los conductores en cada extremo lejano, mida entre ellos en la alimentación.',
  'Isolate and lock out, disconnect the cable, measure between the bus wires at the feed with every far end open.':
    'Aísle y bloquee, desconecte el cable, mida entre los conductores en la alimentación con todos los extremos abiertos.',
  'Isolate and lock out, join the bus wires at the far end and test for a closed loop at the feed.':
    'Aísle y bloquee, una los conductores en el extremo lejano y compruebe en la alimentación si el lazo cierra.',
  'Contact thermometer on the pipe under the insulation, away from the cable; close the insulation again.':
    'Termómetro de contacto en el tubo bajo el aislamiento, lejos del cable; cierre otra vez el aislamiento.',
  'Thermometer on the jacket of the insulation along the run, where it is warmest; an infra-red one only on a dull tape. Out of the sun and of draughts.':
    'Termómetro en la cubierta del aislamiento a lo largo del tramo, donde esté más caliente; uno infrarrojo solo sobre cinta mate. Sin sol ni corrientes de aire.',
  'Thermometer in the air beside the run, out of draughts and away from lamps.':
    'Termómetro en el aire junto al tramo, sin corrientes de aire y lejos de lámparas.',
  'Read the temperature that the controller shows for its sensor.':
    'Lea la temperatura que el controlador muestra de su sensor.',
  'Open the insulation over the sensor and look: on the run that the plan names, tight on the pipe, away from the cable? Close the insulation again.':
    'Abra el aislamiento sobre el sensor y mire: ¿en el tramo que nombra el plan, ajustado al tubo, lejos del cable? Cierre otra vez el aislamiento.',
  'Disconnect the sensor at the controller and measure its resistance.':
    'Desconecte el sensor en el controlador y mida su resistencia.',
  "Read the controller's output, or the share of ten minutes during which the contactor is in.":
    'Lea la salida del controlador, o la parte de diez minutos en que el contactor está cerrado.',
  'Read the air temperature that is entered in the controller.':
    'Lea la temperatura del aire ingresada en el controlador.',
  'Follow the run and look: insulation in place, jacket closed, dry to the touch.':
    'Siga el tramo y mire: aislamiento en su sitio, cubierta cerrada, seco al tacto.',
  'Follow the whole circuit and look: insulation in place, jacket closed, dry to the touch and nowhere warmer than elsewhere? Write down the run where it is not.':
    'Siga todo el circuito y mire: ¿aislamiento en su sitio, cubierta cerrada, seco al tacto y en ningún punto más caliente? Anote el tramo donde no sea así.',
  'Read what is printed on the jacket of the cable where it can be seen, at the power connection for instance.':
    'Lea lo impreso en la cubierta del cable donde se vea, por ejemplo en la conexión eléctrica.',
  'Look whether the contactor is in while the controller calls for heat, then set the controller so that it does not call and look again.':
    'Mire si el contactor está cerrado mientras el controlador pide calor; después ajústelo para que no pida y mire otra vez.',
  'Look at the breaker of the circuit; if it is open, find out why before it is closed.':
    'Mire el interruptor del circuito; si está abierto, averigüe por qué antes de cerrarlo.',
};
