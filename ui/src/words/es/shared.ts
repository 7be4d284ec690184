import type { Commands } from '../../bridge/generated/Commands'

/** Palabras que usan varias pantallas. */
export const app = { name: 'Truefall', back: 'Atrás', close: 'Cerrar', on: 'en' }

export const asked = {
  waiting: 'Un momento …',
  noLink: 'Truefall no respondió. No se pierde nada de lo que anotó.',
  again: 'Probar otra vez',
  refused: 'No se pudo hacer.',
}

export const verdict = {
  within: 'dentro',
  out: 'fuera',
  'too-close-to-call': 'no se puede decidir',
  'not-tested': 'sin comprobar',
}

export const defaults = {
  baseWall: 'pared de la puerta',
  sideWall: 'pared izquierda',
  entryLine: 'línea de entrada',
  otherWall: 'pared lateral',
  farWall: 'pared del fondo',
  rightWall: 'pared derecha',
  drainEnd: 'lado del desagüe',
  drainEdge: 'borde del desagüe',
  subfloor: 'contrapiso del pasillo',
  joists: 'viguetas como están',
  floor: 'piso',
  fall: 'pendiente al desagüe',
  bed: 'base antes de la membrana',
  doorMark: 'marca de la puerta',
  laserTape: 'línea láser y cinta',
  laserRod: 'láser y estadal',
  stringTape: 'hilo y cinta',
  waterLevel: 'nivel de manguera',
  'framing-bounce': 'estructura: rebote',
  'framing-rot': 'estructura: madera blanda',
  'framing-cut': 'estructura: cortes y rajaduras',
  'framing-moisture': 'estructura: humedad',
  'framing-size': 'estructura: medida',
  'framing-kind': 'estructura: clase',
  'framing-span': 'estructura: claro',
  'framing-photograph': 'estructura: completa',
}

const refusals: Record<string, string> = {
  'not-understood': 'No se entiende esa medida.',
  'not-finite': 'Eso no es un número que se pueda medir.',
  'out-of-range': 'Ese valor no sirve aquí.',
  'missing-field': 'Falta un dato.',
  'wrong-type': 'El archivo no tiene la forma esperada.',
  'unknown-field': 'El archivo tiene un dato que no se conoce.',
  'not-json': 'El archivo no se puede leer.',
  'wrong-header': 'La primera línea de la tabla no es la esperada.',
  'too-many-rows': 'Son demasiadas filas.',
  'too-few-points': 'Faltan lecturas.',
  'not-found': 'Eso no está aquí.',
  'already-there': 'Eso ya está aquí.',
  'does-not-fit': 'No encaja con lo que ya está.',
  'not-ready': 'Todavía no: primero hacen falta el plano y las lecturas.',
  'newer-version': 'Lo hizo una versión más nueva de Truefall.',
  damaged: 'Los datos están dañados. El archivo queda como estaba.',
  locked: 'Otro programa tiene abiertos los datos. Pruebe otra vez.',
  'read-only': 'Aquí no se puede escribir.',
  full: 'No queda espacio en el aparato.',
  'not-joined': 'Este aparato no puede entrar.',
  'not-allowed': 'Este aparato puede mirar, no hacer esto.',
  'too-often': 'Fue demasiado de una vez. Espere un momento.',
}

/** Por qué no se hizo: la frase de aquí, y detrás la del programa, que dice dónde. */
export function refusal(kind: string, message: string, label?: string): string {
  const known = refusals[kind]
  const said = known && kind !== 'not-ready' ? `${known} (${message})` : (known ?? message)
  return label ? `«${label}»: ${said}` : said
}

export function unread(count: number): string {
  return count === 1 ? 'Falta leer un punto; queda fuera.' : `Faltan ${count} puntos por leer; quedan fuera.`
}

const problems: Record<string, string> = {
  'duplicate-point': 'Un mismo lugar tiene dos alturas distintas; se toma el promedio.',
  'missing-reading': 'Falta una lectura.',
  'no-shared-plane': 'Muy pocas viguetas están parejas: se comparan con todas.',
  'no-sound-joist': 'Ninguna vigueta está sana.',
  'old-top-above': 'Un canto viejo queda sobre la meta: pregunte antes de rebajarlo.',
  'dry-rooms-only': 'Un piso plano sin nivel es solo para cuartos secos.',
  'setting-held': 'Una cifra se tomó en su límite.',
  'partly-tested': 'Una parte de la línea tiene lecturas muy separadas y no se comprueba.',
  'not-looked-at': 'Nadie ha mirado esta vigueta.',
  'corner-not-read': 'Una esquina no se leyó.',
  'outside-boundary': 'Una lectura queda fuera de las paredes.',
}

export function problem(kind: string, message: string): string {
  return problems[kind] ?? message
}

export const clauses: Record<string, string> = {
  'common practice': 'práctica común',
  'check your edition': 'revise su edición',
  'United States, dwelling shower': 'Estados Unidos, regadera de vivienda',
  'United States, plumbing code': 'Estados Unidos, código de plomería',
  'United States, accessible roll-in': 'Estados Unidos, acceso con silla',
  'Australia, shower': 'Australia, regadera',
  'Australia, older: shower': 'Australia, anterior: regadera',
  'Australia, older: other wet floor': 'Australia, anterior: otro piso mojado',
  'New Zealand, within 1500 mm of the rose': 'Nueva Zelanda, a menos de 1500 mm de la flor',
  'United Kingdom, wet room': 'Reino Unido, cuarto húmedo',
  'ANSI A108.02, substrate for tile, as quoted in the trade':
    'ANSI A108.02, base para baldosas, como se cita en el oficio',
  'Pressed floor and porcelain tile': 'Baldosa prensada y porcelanato',
  Stone: 'Piedra',
  'United Kingdom, floor tile': 'Reino Unido, baldosa de piso',
  'Australia, floor tile': 'Australia, baldosa de piso',
  'stone institute, as quoted with A108.02': 'instituto de la piedra, citado con A108.02',
  'NSW guide 12.9': 'guía de NSW 12.9',
}

export const languageNames = {
  device: 'Como el aparato',
  'en-US': 'English (US)',
  'en-AU': 'English (UK, Australia)',
  es: 'Español',
}

export const unit = { in: 'pulg', ft: 'pies', mm: 'mm', m: 'm' }
export const unitShort = { in: '1/16 pulg', decimal: '0.01 pulg', mm: 'mm' }
export const unitNames = { in: 'Pulgadas y fracciones', decimal: 'Pulgadas decimales', mm: 'Milímetros' }

export const point = {
  at: (station: string) => `a ${station}`,
  from: (wall: string) => `desde: ${wall}`,
  each: (distance: string, wall: string) => `${distance} desde: ${wall}`,
  named: (joist: string, station: string) => `${joist} a ${station}`,
}

export const undo = { undo: 'Deshacer' }

const done: Record<keyof Commands, (subject: string) => string> = {
  'room-new': () => 'Cuarto empezado',
  'room-rename': () => 'Cuarto con otro nombre',
  'room-archive': () => 'Cuarto guardado o sacado',
  'room-import': () => 'Cuarto abierto de un archivo',
  'plan-set': () => 'Plano trazado',
  'setup-open': (subject) => `Estación abierta en ${subject}`,
  'setup-withdraw': () => 'Estación retirada',
  'setup-close': (subject) => `Estación cerrada en ${subject}`,
  'reading-add': (subject) => `Lectura en ${subject}`,
  'readings-withdraw': () => 'Lecturas retiradas',
  'readings-import': () => 'Lecturas traídas juntas',
  'import-withdraw': () => 'Lecturas traídas, retiradas',
  'gate-set': (subject) => `Estructura: ${subject} contestada`,
  'gate-clear': (subject) => `Estructura: ${subject} borrada`,
  'approval-add': (subject) => `Autorización anotada para ${subject}`,
  'approval-withdraw': () => 'Autorización retirada',
  'rule-set': (subject) => `Tolerancia cambiada: ${subject}`,
  'decision-set': () => 'Manera de juzgar elegida',
  'tile-set': () => 'Baldosa elegida',
  'falls-set': () => 'Regla de pendientes elegida',
  'layers-set': () => 'Capas cambiadas',
  'pour-set': () => 'Vaciado cambiado',
  'fall-plan-set': () => 'Pendiente cambiada',
  'ledges-set': () => 'Repisas cambiadas',
  'tiling-set': () => 'Trazo de baldosas cambiado',
  'door-set': () => 'Alturas de la puerta cambiadas',
  'stock-set': () => 'Hojas y calzas cambiadas',
  'target-set': () => 'Altura elegida',
  'tick-set': (subject) => `Marcado: ${subject}`,
  'entry-put': (subject) => `Registro: ${subject}`,
  'entry-remove': () => 'Quitado del registro',
}

export function command(name: string, subject: string): string {
  return name in done ? done[name as keyof Commands](subject).trim() : name
}

export const commandShort: Record<string, string> = {
  'setup-open': 'la marca',
  'setup-close': 'el cierre',
  'plan-set': 'el plano',
  'reading-add': 'una lectura',
  'readings-import': 'la tabla',
  'gate-set': 'una respuesta',
}
