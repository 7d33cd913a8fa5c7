// Findings of taps, power and layout in Spanish: title and what to do, by the ids of docs/findings.md.
import type { FindingWords } from './findings.es';

export const worksFindings: FindingWords = {
  'runout-long': [
    'El tubo sin cable hasta el grifo es más largo de lo permitido',
    'Lleve el cable más cerca del grifo, acorte el tubo o use un diámetro menor.',
  ],
  'outlet-scald': [
    'Grifo por encima de su límite y sin válvula termostática',
    'Ponga una válvula termostática en el grifo y anótela en outlets.csv.',
  ],
  'scald-stuck-on': [
    'El grifo podría quemar si el control queda encendido',
    'Ponga una válvula termostática, o un corte igual o inferior al límite, independiente del controlador.',
  ],
  'no-ground-fault': [
    'El tablero no tiene protección de falla a tierra para cable calefactor',
    'Use interruptores con protección de falla a tierra de equipos, o un diferencial equivalente.',
  ],
  'voltage-not-listed': [
    'La tensión del tablero no está en la hoja de datos del cable',
    'Elija un cable para esta tensión, o aliméntelo con otra.',
  ],
  'voltage-low-not-listed': [
    'La tensión más baja del tablero está por debajo de la hoja de datos',
    'Pida al fabricante la potencia a esta tensión y complete la hoja, o corrija la tensión mínima del tablero.',
  ],
  'voltage-high-not-listed': [
    'La tensión más alta del tablero está por encima de la hoja de datos',
    'Elija un cable apto para esta tensión, o corrija la tensión máxima del tablero.',
  ],
  'no-circuit': [
    'Un tramo con cable no está en ningún circuito',
    'Dé un tablero a su grupo y conecte el tramo al suministro.',
  ],
  'over-80': [
    'Carga continua mayor que la que puede llevar el interruptor',
    'Divida el tramo, use un cable menos potente o dé al circuito el interruptor que necesita.',
  ],
  'breaker-beyond-sheet': [
    'El interruptor no está en la hoja de datos del cable',
    'Use un interruptor que figure en la hoja, o pregunte al fabricante por escrito.',
  ],
  'breaker-not-standard': [
    'El interruptor dado no tiene un valor normalizado',
    'Corrija el valor en circuits.csv, o cambie el interruptor.',
  ],
  'over-length': [
    'El cable es más largo de lo que puede ser su circuito',
    'Alimente el tramo por el medio, divídalo en dos o use un cable que permita la longitud.',
  ],
  'length-not-listed': [
    'La hoja de datos no da longitud para esta tensión y este arranque',
    'Añada a la hoja las longitudes del fabricante, o suba la temperatura de arranque si está justificado.',
  ],
  'leakage-budget': ['La fuga permanente supera lo previsto', 'Divida el circuito.'],
  'no-steady-state': [
    'No hay tensión estable a lo largo del circuito',
    'Divida el circuito, o aliméntelo más cerca del medio.',
  ],
  'feeder-drop': [
    'La caída de tensión del cableado supera lo recomendado',
    'Use el conductor siguiente, o acerque el tablero.',
  ],
  'total-drop': [
    'La caída de tensión hasta el extremo lejano supera lo recomendado',
    'Alimente el circuito más cerca del medio, divídalo o use un conductor mayor.',
  ],
  'far-voltage-not-listed': [
    'La tensión en el extremo lejano está por debajo de la hoja de datos',
    'Divida el circuito, aliméntelo más cerca del medio o use un conductor mayor.',
  ],
  'far-voltage': [
    'La caída de tensión deja a un tramo sin calor suficiente',
    'Divida el circuito, aliméntelo en otro punto, use conductores mayores o dé al tramo más cable o aislamiento.',
  ],
  'no-conductor': [
    'No se encontró conductor para el circuito',
    'Cambie lo que el trabajo dice del cableado o del interruptor, o divida el circuito.',
  ],
  'no-raceway': [
    'No se encontró canalización para el circuito',
    'Lleve menos circuitos en una canalización, o elija otro tipo o aislamiento.',
  ],
  'grouping-bites': [
    'Los circuitos llevados juntos necesitan conductores mayores',
    'Lleve menos circuitos en una canalización, o pague conductores mayores.',
  ],
  'no-supply-conductor': [
    'No se encontró conductor para la alimentación del tablero',
    'Use un segundo tablero, o indique la alimentación que ya existe.',
  ],
  'supply-small': [
    'La alimentación del tablero es menor de lo que pide su carga',
    'Use conductores mayores, o quite carga al tablero.',
  ],
  'supply-drop': [
    'La caída de tensión en la alimentación del tablero supera lo recomendado',
    'Use conductores mayores, o mueva el tablero.',
  ],
  'start-trips': [
    'El interruptor tiene que disparar en un arranque en frío',
    'Divida el circuito, use un interruptor mayor que la hoja permita o arranque con el tubo más caliente.',
  ],
  'start-not-assured': [
    'La norma del interruptor no asegura el arranque en frío',
    'Compare la corriente de arranque de la hoja con la curva tiempo-corriente del fabricante del interruptor.',
  ],
  'start-model-off': [
    'El modelo del arranque no sigue la hoja de datos',
    'Compare la hoja con la del fabricante y pídale la evolución de la corriente.',
  ],
  'start-above-limit': [
    'El tablero no puede arrancar sus circuitos dentro de su límite',
    'Use un segundo tablero o un interruptor general mayor, o arranque con el tubo más caliente.',
  ],
  'start-in-sequence': [
    'Los circuitos del tablero deben arrancar uno tras otro',
    'Haga que los controles mantengan la secuencia cada vez que vuelve la corriente.',
  ],
  'panel-overload': [
    'El interruptor general del tablero está sobrecargado',
    'Use un segundo tablero o un interruptor general mayor.',
  ],
  'panel-poles': [
    'El tablero tiene pocos polos libres',
    'Añada un tablero, o junte circuitos si las longitudes lo permiten.',
  ],
  'phase-imbalance': [
    'Las fases llevan cargas desiguales',
    'Intercambie circuitos entre fases, también con otras cargas del tablero.',
  ],
  'contacts-small': [
    'El controlador no puede conmutar su circuito por sí solo',
    'Que un contactor conmute el circuito, como dicen los materiales.',
  ],
  'layout-conflict': [
    'No se puede cumplir lo fijado para un circuito',
    'Corrija lo fijado o la fila de circuits.csv.',
  ],
  'layout-not-proven': [
    'El reparto en circuitos quizá no es el más barato',
    'Revise a mano las ramas de los colectores grandes, o déjelo así.',
  ],
  'circuit-gone': [
    'Ya no se reconoce un circuito conocido',
    'Quite su etiqueta del tubo y del tablero, o márquelo como fijo en circuits.csv.',
  ],
  'rule-overridden': [
    'Se deja de lado una regla',
    'Tenga por escrito el consentimiento de la autoridad competente.',
  ],
  'override-idle': ['Una excepción no cambia nada', 'Borre la excepción de job.toml.'],
  'acceptance-unknown': [
    'La aceptación nombra una observación desconocida',
    'Corrija el identificador; la página de observaciones los lista todos.',
  ],
  'acceptance-idle': ['La aceptación no corresponde a ninguna observación', 'Borre la aceptación.'],
};
