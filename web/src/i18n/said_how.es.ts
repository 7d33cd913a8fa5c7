// How a test is done, and what to mind, in Spanish, by the server's sentence.
export const howEs: Record<string, string> = {
  'Before any insulation test: circuit locked out and proved dead; controllers and sensors disconnected; nobody in reach of the cable. Discharge the cable after each test.':
    'Antes de toda prueba de aislamiento: circuito bloqueado y comprobado sin tensión; controladores y sensores desconectados; nadie al alcance del cable. Descargue el cable después de cada prueba.',
  'Only a licensed electrician measures at live parts.':
    'En partes con tensión mide solo un electricista autorizado.',
  'Hot pipe and hot water burn and scald.': 'El tubo y el agua calientes queman.',
  "A pass is no permit: local codes, the authority having jurisdiction and the cable maker's instructions decide.":
    'Aprobar no es un permiso: deciden las normas locales, la autoridad competente y las instrucciones del fabricante del cable.',

  'Read the marking on the jacket and the reel label: type, voltage, length, batch. Look for crushed or cut places.':
    'Lea el marcado de la cubierta y la etiqueta del carrete: tipo, tensión, longitud, lote. Busque lugares aplastados o cortados.',
  'Power off and locked, both bus wires twisted together, megohmmeter between them and the braid; 1 min at 500 V dc at least, 2500 V dc recommended for polymer cable unless the cable maker allows less. Discharge the cable afterwards.':
    'Sin corriente y bloqueado, los dos conductores del cable unidos, el megóhmetro entre ellos y la malla; 1 min a 500 V cc como mínimo; se recomiendan 2500 V cc para cable polimérico, salvo que el fabricante permita menos. Descargue el cable después.',
  'Power off and locked, both bus wires twisted together, megohmmeter between them and the braid; before any insulation goes on; 1 min at 500 V dc at least, 2500 V dc recommended for polymer cable unless the cable maker allows less. Discharge the cable afterwards.':
    'Sin corriente y bloqueado, los dos conductores del cable unidos, el megóhmetro entre ellos y la malla; antes de poner aislamiento térmico; 1 min a 500 V cc como mínimo; se recomiendan 2500 V cc para cable polimérico, salvo que el fabricante permita menos. Descargue el cable después.',
  'Power off and locked, both bus wires twisted together, megohmmeter between them and the braid; to find a cable hurt by the insulation work; 1 min at 500 V dc at least, 2500 V dc recommended for polymer cable unless the cable maker allows less. Discharge the cable afterwards.':
    'Sin corriente y bloqueado, los dos conductores del cable unidos, el megóhmetro entre ellos y la malla; para hallar un cable dañado al aislar; 1 min a 500 V cc como mínimo; se recomiendan 2500 V cc para cable polimérico, salvo que el fabricante permita menos. Descargue el cable después.',
  'Power off and locked; controller, thermostat and any electronics disconnected; both bus wires joined to the braid through the megohmmeter, 500 V dc at least. Discharge afterwards.':
    'Sin corriente y bloqueado; controlador, termostato y toda electrónica desconectados; los dos conductores unidos a la malla a través del megóhmetro, 500 V cc como mínimo. Descargue después.',
  'Join the bus wires at the far end; ohmmeter across them at the near end. Then each bus wire to braid: open.':
    'Una los conductores en el extremo lejano; óhmetro entre ellos en el cercano. Después cada conductor contra la malla: abierto.',
  'As on receipt, from the power connection to each end; open the join afterwards and fit the end seal.':
    'Como al recibir, desde la conexión eléctrica hasta cada extremo; después abra la unión y ponga el sello de extremo.',
  'Capacitance meter between both bus wires, joined, and the braid, divided by the data sheet value per metre; branches add up.':
    'Capacímetro entre los dos conductores, unidos, y la malla, dividido por el valor por metro de la hoja de datos; las ramas se suman.',
  'Look: on the traced pipe, opposite the cable, clear of valves and supports, taped down its whole length, lead out away from the cable.':
    'Mire: en el tubo con cable, frente al cable, lejos de válvulas y soportes, pegado en toda su longitud, con su conductor apartado del cable.',
  'Measure thickness at both ends of each run and at valves; joints closed, no bare fittings, oversize bore where the cable lies.':
    'Mida el espesor en los dos extremos de cada tramo y en las válvulas; juntas cerradas, ningún accesorio desnudo, diámetro mayor donde va el cable.',
  'Walk the pipe.': 'Recorra el tubo.',
  'Heating cable disconnected; each conductor to ground, 500 V dc.':
    'Cable calefactor desconectado; cada conductor contra tierra, 500 V cc.',
  'Heating cable disconnected; each conductor to ground, 1000 V dc.':
    'Cable calefactor desconectado; cada conductor contra tierra, 1000 V cc.',
  'Heating cable disconnected; live conductors to earth, 500 V dc.':
    'Cable calefactor desconectado; conductores activos contra tierra, 500 V cc.',
  'Low-resistance ohmmeter from the braid at the far end, and from the pipe where metal, to the earth bar of the panel.':
    'Óhmetro de baja resistencia desde la malla en el extremo lejano, y desde el tubo si es metálico, hasta la barra de tierra del tablero.',
  'Sensor disconnected, ohmmeter across it; compare with its table at the pipe temperature by contact thermometer. Pt100: 107.79 Ω at 20 °C (68 °F), 119.40 Ω at 50 °C (122 °F).':
    'Sensor desconectado, óhmetro entre sus bornes; compare con su tabla a la temperatura del tubo por termómetro de contacto. Pt100: 107.79 Ω a 20 °C (68 °F), 119.40 Ω a 50 °C (122 °F).',
  'At the power connection, no load, between the conductors that feed the cable.':
    'En la conexión eléctrica, sin carga, entre los conductores que alimentan el cable.',
  'Press the test button of each device with the circuit live.':
    'Pulse el botón de prueba de cada dispositivo con el circuito en tensión.',
  'RCD tester at the power connection, at 1 x and 5 x rated current, general type.':
    'Comprobador de diferenciales en la conexión eléctrica, a 1 y 5 veces la corriente asignada, tipo general.',
  'Leakage clamp round both supply conductors, cable on.':
    'Pinza de fugas alrededor de los dos conductores de alimentación, con el cable encendido.',
  'Volts at the power connection, amperes of the circuit and pipe temperature, at 0 s, 300 s and when steady.':
    'Tensión en la conexión eléctrica, corriente del circuito y temperatura del tubo, a 0 s, a 300 s y cuando ya no cambian.',
  'Pipe temperature at the sensor and at the end of each branch by contact thermometer until steady; then the first water of the farthest taps.':
    'Temperatura del tubo en el sensor y al final de cada rama con termómetro de contacto hasta que no cambie; después la primera agua de los grifos más lejanos.',
  'Insulation resistance; continuity or normal current; voltage; controls; ground-fault device test. Compare with the record of the hand-over.':
    'Resistencia de aislamiento; continuidad o corriente normal; tensión; controles; prueba de la protección de falla a tierra. Compare con el registro de la entrega.',
};
