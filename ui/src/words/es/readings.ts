import type { Slip } from '../../bridge/generated/Slip'
import type { Surface } from '../../bridge/generated/Surface'
import type { Verdict } from '../../bridge/generated/Verdict'

const lower: Record<Surface, string> = { framing: 'vigueta más baja', floor: 'piso más bajo', fall: 'piso más bajo' }
const higher: Record<Surface, string> = { framing: 'vigueta más alta', floor: 'piso más alto', fall: 'piso más alto' }

export const readings = {
  title: 'Lecturas',
  sub: (mark: string, opening: string) => `${mark} ${opening}`,
  count: (read: number, points: number) => `${read} de ${points}`,
  noPoints: 'Este cuarto no tiene puntos que leer. Trace primero el plano.',

  lock: 'Bloquear para limpiar el vidrio',
  locked: 'Bloqueado para limpiar',
  unlock: 'Toque 1 y luego 2.',

  standFirst: 'Ponga el nivel y no lo mueva.',
  standAgain: 'Ponga el nivel otra vez.',
  standWhy: 'Lea primero una marca fija. Leerla otra vez al final muestra si algo se movió.',
  instrument: 'Se lee con',
  reads: 'Qué tan fino lee, 19 veces de 20',
  means: 'Qué quiere decir el número',
  mark: 'La marca, algo que no se mueva',
  begin: 'Leer la marca',

  openFirst: 'Lea primero esta marca.',
  beforeClosing: '¿Falta mirar algún lugar? Después de cerrar ya no.',
  closeNow: 'Todo leído. Lea otra vez la marca para cerrar.',
  closeEarly: 'Lea otra vez la marca para cerrar.',
  sense: { down: 'Hacia abajo desde la línea', up: 'Hacia arriba desde la marca' },
  senseOf: {
    down: (surface: Surface) => `más grande, ${lower[surface]}`,
    up: (surface: Surface) => `más grande, ${higher[surface]}`,
  },
  edges: { left: 'Canto izquierdo', right: 'Canto derecho' },
  bothEdges: 'Leer los dos cantos: viguetas torcidas',
  skip: 'Saltar',
  choosePoint: 'Elegir un punto',
  points: 'Todos los puntos',
  pointsSub: 'Toque uno para leerlo, o leerlo otra vez',
  rowAt: (station: string) => `a ${station}`,
  closeSetup: 'Cerrar esta estación en su marca',

  wholeInch: (whole: string) => `Pulgada entera ${whole}`,
  pad: 'Teclas para la lectura',
  back: 'Quitar una tecla',
  point: 'Punto decimal',
  minus: 'Menos',
  clear: 'borrar',
  strong: 'largo',
  shy: 'corto',
  otherKeys: 'Otras teclas',
  page: { in: { first: '1/16', second: '123' }, mm: { first: '.', second: '−' } },
  next: 'Siguiente',
  keepOpening: 'Empezar',
  keepClosing: 'Cerrar',
  hint: { in: 'Toque el dieciseisavo y siguiente.', mm: 'Toque las cifras y siguiente.' },
  echoIn: (decimal: string, mm: string) => `${decimal} pulg · ${mm} mm`,
  echoDecimal: (fraction: string, mm: string) => `${fraction.replace('"', '')} pulg · ${mm} mm`,
  echoMm: (fraction: string) => `${fraction.replace('"', '')} pulg`,
  already: (entered: string) => `Leído: ${entered}. Un número nuevo toma su lugar; se guardan los dos.`,
  together: (entered: string) => `Cuenta junto con ${entered}: la altura es su promedio.`,
  countBoth: 'Contar las dos',
  difference: (amount: string, sign: number, point: string) =>
    sign === 0 ? `igual que ${point}` : `*${amount} ${sign > 0 ? 'arriba' : 'abajo'}* de ${point}`,
  unusual: '¿Una comba o un descuido? Siguiente lo guarda.',
  far: (expected: string, u: string) => `*Muy lejos.* Las lecturas vecinas hacen esperar ${expected}, ${u}.`,
  slip: {
    inch: '¿Se fue una pulgada?',
    foot: '¿Se fue un pie?',
    'ten-millimetres': '¿Se fueron 10 mm?',
    'hundred-millimetres': '¿Se fueron 100 mm?',
    'swapped-digits': '¿Dos cifras cambiadas?',
    sense: '¿Arriba en lugar de abajo?',
    'line-edge': '¿El otro borde de la línea?',
  } satisfies Record<Slip, string>,
  keepTyped: (text: string) => `Dejar ${text}`,
  itWas: (text: string) => `Era ${text}`,
  wasAnother: 'Era otro número',
  kept: (point: string, text: string) => `${point}: ${text} guardado.`,
  takenBack: 'Deshecho.',

  closedOn: (mark: string) => `Cerrado en: ${mark}.`,
  closes: (error: string) => `Cierra con ${error}`,
  closedFigures: (mark: string, opening: string, closing: string) =>
    `En ${mark} se leyó ${opening} al principio y ${closing} al final.`,
  closesMeans: {
    within: 'El nivel no se movió. Valen todas las lecturas de esta estación.',
    out: 'Algo se movió: el nivel, la marca o la cinta; o la marca se leyó en el otro borde de la línea. Todas las lecturas de esta estación quedan señaladas hasta que se lean otra vez.',
    'too-close-to-call': 'Quizá se movió más que el límite. Lea la marca una vez más antes de confiar.',
    'not-tested': 'La estación todavía no se cierra.',
  } satisfies Record<Verdict, string>,
  readAgain: 'Poner el nivel otra vez',
  toFindings: 'Ver los resultados',
}
