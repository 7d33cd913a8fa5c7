// Findings of survey, heat and control in Spanish: title and what to do, by the ids of docs/findings.md.
import type { FindingWords } from './findings.es';

export const designFindings: FindingWords = {
  'unknown-supply': [
    'El nudo del suministro no está en ningún tramo',
    'Dé a supply.node el nombre del nudo donde empieza el primer tramo.',
  ],
  loop: [
    'Los tramos forman un anillo',
    'Corrija desde y hasta del tramo nombrado; una línea de retorno no va en el trabajo.',
  ],
  disconnected: [
    'Un tramo no cuelga del suministro',
    'Corrija el nombre de un nudo, o añada el tramo que falta hasta el suministro.',
  ],
  'two-feeds': [
    'Dos tramos alimentan el mismo nudo',
    'Corrija el final del tramo nombrado, o divida el nudo.',
  ],
  'length-zero': ['El tramo no tiene longitud', 'Mida el tramo y anote su longitud, o borre la fila.'],
  'run-very-long': [
    'El tramo es muy largo',
    'Revise la longitud y su unidad; si es correcta, acepte la observación.',
  ],
  'size-grows': ['El tubo crece aguas abajo', 'Revise los dos diámetros en el dibujo y en el tubo.'],
  'level-jump': ['El tramo cambia de nivel sin montante', 'Añada el tramo vertical, o corrija el nivel.'],
  'air-assumed': [
    'No se dio la temperatura del aire',
    'Mida o pregunte, y anote el aire más frío, el habitual y el más caliente del espacio.',
  ],
  'air-order': [
    'Las temperaturas del aire están desordenadas',
    'Anote de menor a mayor: más frío, habitual, más caliente.',
  ],
  'air-implausible': ['La temperatura del aire no es creíble', 'Revise el valor y su unidad.'],
  'dead-end': ['El tubo termina sin grifo', 'Añada el grifo que falta, o haga quitar el tramo muerto.'],
  'outlet-nowhere': [
    'El grifo está en un nudo desconocido',
    'Dé al grifo el nombre del nudo al final de un tramo.',
  ],
  'outlet-not-reached': ['El suministro no llega al grifo', 'Conecte el tramo que lo alimenta.'],
  'nothing-traced': [
    'Ningún tramo lleva cable',
    'Marque en la columna «con cable» los tramos que lo llevan.',
  ],
  'traced-no-group': [
    'Un tramo con cable no tiene grupo de control',
    'Anote el grupo del tramo, o márquelo sin cable.',
  ],
  'group-empty': ['El grupo de control no tiene tramos con cable', 'Asigne tramos al grupo, o bórrelo.'],
  'untraced-gap': [
    'Tramo sin cable entre tramos con cable',
    'Ponga cable también ahí, o confirme que el hueco es intencional y acepte la observación.',
  ],
  'mixing-valve-none': [
    'Se acumula más caliente de lo que se entrega, y no hay válvula mezcladora',
    'Anote supply.mixing_valve_node, o iguale la temperatura entregada a la acumulada.',
  ],
  'no-cable': [
    'Ningún cable sirve para el tramo',
    'Permita un cable más potente, más pasadas o un aislamiento más grueso.',
  ],
  'hold-cold': [
    'El tramo no se mantiene en el peor caso',
    'Aislamiento más grueso, cable más potente o segunda pasada; o una temperatura menor si la higiene lo permite.',
  ],
  'hold-shared': [
    'El tramo queda frío con el control común del grupo',
    'Ponga el sensor en este tramo, aíslelo mejor o dele un grupo propio.',
  ],
  'hold-hot': [
    'El tramo queda caliente con el control común del grupo',
    'Dele un grupo propio, o iguale el aislamiento de los tramos.',
  ],
  'hold-unlikely': [
    'Con las tolerancias, el grupo quizá no se mantiene',
    'Añada margen donde un tramo falla primero, o acepte el riesgo con un motivo.',
  ],
  'pipe-too-hot': [
    'El tubo se calienta demasiado si el control queda encendido',
    'Use un cable menos potente, o un corte por temperatura independiente del controlador.',
  ],
  'insulation-too-hot': [
    'El aislamiento se calienta demasiado si el control queda encendido',
    'Use un aislamiento de límite mayor, un cable menos potente o un corte independiente.',
  ],
  'cable-too-hot': [
    'El cable se calienta más de lo que puede estando encendido',
    'Use un cable de mayor temperatura, uno menos potente o un corte independiente.',
  ],
  'cable-hot-water': [
    'Pasa agua más caliente de lo que el cable soporta encendido',
    'Mezcle el agua antes de los tramos con cable, o use un cable apto para ella.',
  ],
  'insulation-small': [
    'El aislamiento no deja sitio a tubo y cable',
    'Pida el diámetro siguiente, que cubra tubo y cable, y selle la junta.',
  ],
  'insulation-below-code': [
    'El aislamiento es más delgado de lo que pide la norma de energía',
    'Use al menos el espesor nombrado, o muestre a la autoridad una alternativa aceptada.',
  ],
  'traced-bare': ['Un tramo con cable no tiene aislamiento', 'Anote el aislamiento del tramo.'],
  'sheet-extrapolated': [
    'La hoja de datos termina antes de esta temperatura',
    'Pida al fabricante la potencia a esta temperatura y complete la hoja.',
  ],
  'plastic-derated': [
    'El cable da menos sobre tubo plástico',
    'Siga las instrucciones del fabricante para tubo plástico; por lo general, cinta de aluminio sobre el cable.',
  ],
  'warm-up-long': [
    'Calentar desde frío tarda mucho',
    'Lave con agua caliente del calentador antes de devolver los tubos al uso.',
  ],
  'passes-do-not-fit': [
    'Las pasadas de cable no caben alrededor del tubo',
    'Use menos pasadas de un cable más potente.',
  ],
  'sensor-none': [
    'El grupo de control no tiene sensor',
    'Anote el tramo del sensor del grupo, o elija el control por ambiente ingresado.',
  ],
  'open-loop': [
    'El grupo se controla por un ambiente ingresado',
    'Considere un sensor de tubo; si no, revise los tubos con termómetro según el plan de gestión del agua.',
  ],
  'ambient-missing': ['Falta el ambiente para el control sin sensor', 'Anote el ambiente del grupo.'],
  'ambient-far': [
    'El ambiente ingresado está lejos del aire de los tramos',
    'Anote el aire habitual de los tramos, ponderado por longitud, o divida el grupo por espacios.',
  ],
  'sensor-above-valve': [
    'El sensor está antes de la válvula mezcladora',
    'Ponga el sensor en un tramo con cable después de la válvula mezcladora.',
  ],
  'sensor-untraced': [
    'El sensor está en un tramo sin cable',
    'Ponga el sensor en un tramo con cable del grupo.',
  ],
  'sensor-other-group': [
    'El sensor está en un tramo de otro grupo',
    'Ponga el sensor en un tramo de su propio grupo.',
  ],
  'sensor-angle': [
    'El sensor está junto al cable',
    'Fije el sensor frente al cable, a 180 grados, bajo el aislamiento.',
  ],
  'sensor-lost-on': [
    'El grupo queda encendido si pierde el sensor',
    'Dé al corte un sensor propio y haga atender la alarma, o elija «off» o «ambient».',
  ],
  'sensor-not-governing': [
    'Otro tramo gobernaría mejor',
    'Mueva el sensor al tramo nombrado, o acepte las temperaturas de la tabla.',
  ],
  'maintain-growth': [
    'La temperatura mantenida está en la banda en que crece la Legionella',
    'Suba la temperatura por encima de la banda, o que la persona responsable decida por escrito.',
  ],
  'setback-growth': [
    'La temperatura reducida está en la banda en que crece la Legionella',
    'Súbala o quítela; si se queda, el plan de gestión del agua debe cubrirla.',
  ],
  'setback-above-maintain': [
    'La temperatura reducida es mayor que la mantenida',
    'Intercambie o corrija las dos temperaturas.',
  ],
  'off-period': [
    'El grupo se apaga a ciertas horas de la semana',
    'Mantenga los tubos calientes, o que el plan de gestión del agua cubra esas horas y un lavado después.',
  ],
  'maintain-below-guideline': [
    'La temperatura mantenida es menor que la de la guía de higiene vigente',
    'Suba la temperatura, o elija la guía que corresponde.',
  ],
  'setback-below-guideline': [
    'La temperatura reducida es menor que la de la guía de higiene vigente',
    'Quite la reducción, o que el plan de gestión del agua la cubra.',
  ],
  'stored-below-guideline': [
    'El agua acumulada es menos caliente de lo que pide la guía de higiene',
    'Suba la temperatura de acumulación y mezcle después.',
  ],
  'delivered-below-guideline': [
    'El agua entregada es menos caliente de lo que pide la guía de higiene',
    'Suba la válvula mezcladora y ponga válvulas termostáticas en los grifos.',
  ],
  'maintain-above-delivered': [
    'Se mantiene más caliente de lo que se entrega',
    'Baje la temperatura mantenida, o compare los grifos con ella y protéjalos.',
  ],
  'cutout-none': [
    'El grupo no tiene corte por temperatura',
    'Anote el corte por encima de la temperatura mantenida.',
  ],
  'cutout-low': [
    'El corte por temperatura no está por encima de la mantenida',
    'Ajústelo por encima de la temperatura mantenida y su banda de control.',
  ],
  'cutout-too-high': [
    'El corte por temperatura no protege',
    'Ajústelo por debajo del límite más bajo de tubo y cable del grupo.',
  ],
  'cutout-relied-on': [
    'Si el control queda encendido, solo el corte respeta un límite',
    'Dé al corte un sensor y un contactor propios, y pruébelo en cada inspección.',
  ],
  'low-alarm-high': [
    'La alarma baja no está por debajo de la temperatura mantenida',
    'Ajústela por debajo de la temperatura mantenida menos la tolerancia.',
  ],
  'high-alarm-low': [
    'La alarma alta no está por encima de la temperatura mantenida',
    'Ajústela por encima de la temperatura mantenida.',
  ],
  'healthcare-trace': [
    'Un edificio de salud depende del cable calefactor',
    'Pida al dueño y a la autoridad su consentimiento por escrito antes de comprar.',
  ],
  'energy-against-hygiene': [
    'La norma de energía y la guía de higiene se contradicen',
    'Que la persona responsable decida el horario por escrito; guarde la decisión con la carpeta.',
  ],
};
