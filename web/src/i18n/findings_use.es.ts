// Findings of the week, of logs and of field tests in Spanish: title and what to do, by the ids of docs/findings.md.
import type { FindingWords } from './findings.es';

export const useFindings: FindingWords = {
  'week-impossible': [
    'Ninguna semana de ajustes cumple todo lo pedido',
    'Pida menos de lo que nombra la observación, o dé a los tramos nombrados más cable o aislamiento.',
  ],
  'week-run-cold': [
    'Un tramo queda demasiado frío con cualquier consigna',
    'Dé al tramo aislamiento más grueso, más cable o un grupo propio.',
  ],
  'week-run-short': [
    'En la simulación un tramo mantiene menos de lo pedido',
    'Busque tubo sin cable antes del tramo y un sensor engañado por el agua que pasa; después busque otra vez.',
  ],
  'week-comfort-missed': [
    'Muy pocos usos reciben agua caliente a tiempo',
    'Acorte los ramales, mueva el sensor o ponga una meta que el edificio alcance.',
  ],
  'week-band-long': [
    'El agua pasa en la banda de crecimiento más tiempo del pedido',
    'Suba las consignas o el tiempo permitido, o que el plan de gestión del agua lo cubra.',
  ],
  'week-hot-hold-left-out': [
    'Se dejó fuera el mantenimiento caliente semanal',
    'Ponga válvulas termostáticas u otros materiales, baje hot_hold_at o desinfecte de otra manera.',
  ],
  'week-unseen-fault': [
    'Una avería no se notaría a tiempo',
    'Haga lo que nombra la observación: vigile la corriente del circuito, o pruebe el grupo a intervalos fijos.',
  ],
  'week-scald': [
    'Los ajustes calientan el agua por encima del límite del grifo',
    'Ponga una válvula termostática o baje las consignas.',
  ],
  'week-sensor-place': [
    'El sensor costaría menos en otro lugar',
    'Mueva el sensor al tramo que nombra la observación, e ingrese la consigna que le corresponde.',
  ],
  'week-energy-code': [
    'La norma de energía quiere apagar cuando nadie usa agua',
    'Que la persona responsable decida, y anote la decisión.',
  ],
  'week-gap': [
    'Puede haber una semana más barata',
    'Nada: los ajustes cumplen lo pedido. Dé más tiempo a la búsqueda si la diferencia importa.',
  ],
  'week-settings-differ': [
    'La semana del trabajo no es la más barata que cumple lo pedido',
    'Tome los ajustes hallados: en «Semana», o con firstdraw week JOB --toml.',
  ],
  'watch-cold': [
    'El tubo registrado estuvo mucho tiempo más frío de lo debido',
    'Busque la causa (firstdraw diagnose) y haga lo que el plan de gestión del agua dice del agua fría.',
  ],
  'watch-hot': [
    'El agua registrada superó su límite',
    'Revise enseguida las válvulas mezcladoras, el contactor y la consigna.',
  ],
  'watch-gap': ['Faltan lecturas en el registro', 'Averigüe qué paró el registrador o su sensor.'],
  'watch-stuck': ['Una lectura registrada no se mueve', 'Revise sensor, cable y registrador.'],
  'watch-schedule': [
    'El controlador no hace lo programado',
    'Ponga el reloj en hora e ingrese los períodos de la hoja de ajustes.',
  ],
  'watch-insulation': [
    'El registro muestra más pérdida de calor que la de diseño',
    'Mire el aislamiento del tramo, y cuánto frío hace de verdad en su aire.',
  ],
  'watch-cable': [
    'El registro muestra menos potencia del cable que la de diseño',
    'Mida tensión, corriente y resistencia de aislamiento del circuito.',
  ],
  'watch-change': ['Algo cambió en el registro', 'Averigüe qué pasó entonces, y anótelo en los registros.'],
  'test-insulation': [
    'La resistencia de aislamiento es demasiado baja',
    'No energice; busque el punto malo rama por rama, repárelo y pruebe otra vez.',
  ],
  'test-earth': [
    'El camino a tierra no es bueno',
    'Siga la malla de conexión en conexión y pruebe otra vez antes de energizar.',
  ],
  'test-continuity': [
    'Un conductor del cable está abierto',
    'Busque el corte midiendo la capacitancia desde los dos extremos y rehaga la unión.',
  ],
  'test-ground-fault': [
    'La protección de falla a tierra no funciona como debe',
    'No deje el circuito energizado; haga cambiar el dispositivo y pruebe el nuevo.',
  ],
  'test-leakage': [
    'Se fuga demasiado a tierra',
    'Mida la resistencia de aislamiento rama por rama, o divida el circuito.',
  ],
  'test-voltage': [
    'Tensión equivocada en el cable',
    'Corrija la conexión antes de usarlo; lo hace un electricista autorizado.',
  ],
  'test-length': [
    'La longitud instalada no es la del plan',
    'Busque el corte, la rotura o el cable que nadie dibujó, y corrija el dibujo.',
  ],
  'test-sensor': [
    'El sensor no da la temperatura del tubo',
    'Móntelo en el tubo frente al cable y mida en sus propios bornes.',
  ],
  'test-current': [
    'La corriente no es la esperada',
    'Anote temperatura del tubo, tensión y minutos desde el encendido, lea otra vez y después mida la longitud.',
  ],
  'test-temperature': [
    'Un tubo no está a la temperatura esperada',
    'Mire aislamiento, cable y controlador de este tramo, y avise a quien responde por el agua.',
  ],
  'test-tap': [
    'El agua de un grifo está fuera de sus límites',
    'Ponga el grifo fuera de uso hasta que esté bien, y avise a quien responde por el agua.',
  ],
  'test-control': [
    'El controlador o lo que conmuta no está como debe',
    'Ajústelo según la hoja de ajustes; haga cambiar los contactores pegados.',
  ],
  'test-cable': [
    'Hay otro cable que el del plan',
    'Cámbielo, o planifique otra vez con el cable que está puesto.',
  ],
  'test-doubt': ['Una lectura no puede aprobar ni fallar', 'Haga lo que dice el veredicto y lea otra vez.'],
  'trend-insulation-resistance': [
    'La resistencia de aislamiento baja de prueba en prueba',
    'Encuéntrelo mientras es poco: sellos de extremo, empalmes y todo lo que se trabajó desde entonces.',
  ],
  'trend-current': [
    'La corriente baja a igual temperatura',
    'Mida la longitud por capacitancia; vigile los tramos más fríos.',
  ],
  'trend-length': [
    'La longitud instalada ha cambiado',
    'Averigüe qué se hizo desde la prueba anterior y corrija el dibujo.',
  ],
};
