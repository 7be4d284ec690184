import { capital } from '../en-US/count'
import { counted, listed } from './count'

/** Lo que dicen las lecturas, lo peor primero, y qué hacer. */
export const findings = {
  title: 'Resultados',
  sub: (room: string, survey: string) => [room, survey].filter(Boolean).join(' · '),
  none: {
    title: 'Aún no hay lecturas.',
    text: 'Lea al menos tres lugares en cada una de dos viguetas, o tres puntos de un piso. El resultado sale aquí en cuanto se pueda dar.',
    read: 'Empezar a leer',
  },
  headline: {
    gauges: {
      within: (_gauged: number, places: number) => `Plano según la galga en los ${places} lugares de la regla.`,
      out: (_gauged: number, places: number, out: number) =>
        `No está plano según la galga: ${out} de ${places} lugares.`,
      'too-close-to-call': () => 'La galga no alcanza a decidir.',
      'not-tested': (gauged: number, places: number) => `La galga se probó en ${gauged} de ${places} lugares.`,
    },
    out: (joists: number, places: number) =>
      joists > 0 ? `Fuera: ${counted(joists, 'vigueta')}.` : `Fuera: ${counted(places, 'lugar', 'lugares', false)}.`,
    close: (count: number) => `No se puede decidir: ${counted(count, 'lugar', 'lugares', false)}.`,
    closeNamed: (names: string[]) => `No se puede decidir: ${listed(names)}.`,
    notReady: (tile: string | undefined, highs: number, lows: number, high: boolean, amount: string, walls: string) => {
      const many = [
        highs && counted(highs, 'lomo', 'lomos', false),
        lows && counted(lows, 'hundido', 'hundidos', false),
      ].filter((one) => one !== 0)
      const one = `${high ? 'lomo' : 'hundido'} de ${amount}, ${walls}`
      const what = highs + lows === 1 ? `un ${one}` : `${many.join(' y ')}; el peor, un ${one}`
      return `No está listo${tile ? ` para loseta de ${tile}` : ''}: ${what}.`
    },
    fromWall: (distance: string, wall: string) => `a ${distance} de: ${wall}`,
    within: 'Dentro de tolerancia en todo lo que se comprobó.',
    notTested: 'Sin comprobar: las lecturas no bastan.',
    restEven: 'Lo demás es una sola pendiente pareja.',
    restUneven: 'Lo demás tampoco es una pendiente pareja.',
    unread: (left: number) =>
      left === 1 ? 'Falta leer un punto: esto puede cambiar.' : `Faltan ${left} puntos por leer: esto puede cambiar.`,
  },
  todo: {
    title: 'Haga esto primero',
    lookUnder: (joist: string, wall: string) =>
      `*Mire debajo de ${joist} junto a: ${wall}.* Busque una muesca, una rajadura o un corte antes que nada.`,
    lookUnderFrom: (joist: string, from: string, to: string) =>
      `*Mire debajo de ${joist} de ${from} a ${to}.* Busque una muesca, una rajadura o un corte antes que nada.`,
    governs: (joist: string, from: string, to: string) =>
      `*${joist} manda:* corra la cinta sobre ${joist} de ${from} a ${to} y lea el número más chico: ¿dónde está?`,
    governsPoint: (point: string) => `*${point} manda:* todo depende de esta lectura. Tómela otra vez.`,
    blunder: (point: string) => `*Lea otra vez ${point}:* no cuadra con sus vecinos.`,
    engineer: (joist: string) => `*Pregunte a un ingeniero por ${joist}:* se hunde demasiado entre sus extremos.`,
    notLooked: '*Mire la estructura:* nadie ha dicho si está sana.',
    retake: (points: string[]) => `*Lea otra vez:* ${points.join('; ')}. No se puede decidir.`,
    retakeMany: (lines: string[]) =>
      `*No se puede decidir:* ${lines.length > 6 ? `${lines.length} líneas` : listed(lines)}. Sus renglones dicen qué leer otra vez.`,
    height: 'Elegir una altura',
  },
  tabs: { label: 'Vistas de las lecturas', map: 'mapa', along: 'a lo largo', across: 'a través', table: 'tabla' },
  evidence: 'Pruebas',
  limit: (limit: string) => `límite ${limit}`,
  limitBetween: (least: string, most: string) => `de ${least} a ${most}`,
  limitOver: (limit: string, reach: string) => `límite ${limit} bajo ${reach}`,
  provenance: {
    read: 'como se cita en impresos',
    recalled: 'de memoria, sin leer: revise su edición',
    'common-practice': 'práctica común',
    derived: 'por cálculo',
    own: 'cifra suya',
  },
  simple: 'el valor medido contra el límite, riesgo compartido',
  retake: (points: string[]) => `Lea otra vez: ${points.join('; ')}.`,
  noise: (mean: string, most: string) => `el solo error de lectura muestra de ${mean} a ${most}`,
  fromWall: (distance: string, wall: string) => `${wall} ${distance}`,
  more: (count: number) => counted(count, 'resultado más', 'resultados más', false),
  restWithin: (count: number) => counted(count, 'resultado dentro', 'resultados dentro', false),
  pointsAt: (joist: string, stations: string[]) => `${joist} a ${listed(stations)}`,
  fromTo: (upper: string, lower: string) => `${upper} a ${lower}`,
  across: (station: string) => `a través a ${station}`,
  along: (joist: string) => `a lo largo de ${joist}`,
  alongAt: (station: string) => `a lo largo a ${station}`,
  say: {
    high: (joist: string, at: string) => `${joist} queda más alta que las demás, lo más a ${at}`,
    low: (joist: string, at: string) => `${joist} queda más baja que las demás, lo más a ${at}`,
    crown: (joist: string, at: string) => `${joist} se arquea hacia arriba entre sus extremos, lo más a ${at}`,
    sag: (joist: string, at: string) => `${joist} se hunde entre sus extremos, lo más a ${at}`,
    rises: (joist: string) => `${joist} sube de su extremo cercano al lejano`,
    falls: (joist: string) => `${joist} baja de su extremo cercano al lejano`,
    twist: (joist: string, at: string) => `${joist} está torcida: sus dos cantos difieren a ${at}`,
    sagRatio: (joist: string, oneIn: number) => `${joist} se hunde entre sus extremos: una parte en ${oneIn}`,
    sharpDrop: (joist: string, stretch: string) => `${joist} cae de golpe ${stretch}`,
    stretch: (from: string, to: string) => `de ${from} a ${to}`,
    bar: (reach: string, line: string) => `Regla de ${reach} ${line}`,
    barAt: (reach: string, line: string, at: string) => `Regla de ${reach} ${line}, hueco a ${at}`,
    cannot: (apart: string, reach: string) => `Lecturas cada ${apart} no comprueban una regla de ${reach}`,
    cannotAny: (reach: string) => `Estas lecturas no comprueban una regla de ${reach}`,
    gauged: (reach: string) => `Según la galga: entra bajo la regla de ${reach}`,
    nothingUnder: (reach: string) => `Según la galga: nada entra bajo la regla de ${reach}`,
    blunder: (point: string) => `${point} no cuadra con sus vecinos`,
    governs: (joist: string) => `${joist} manda la altura: decide una sola lectura`,
    closing: (mark: string) => `La estación cierra en: ${mark}`,
    notClosed: (mark: string) => `La estación sigue abierta: lea otra vez ${mark}`,
    level: (joist: string) => `${joist} está a nivel de punta a punta`,
    straight: (joist: string) => `${joist} está derecha entre sus extremos`,
    pond: (at: string) => `Aquí quedaría agua, más honda en ${at}`,
    noPond: 'Según lo leído no quedaría agua',
    fallRow: (line: string, oneIn: number) => `${capital(line)} cae al desagüe: 1 en ${oneIn}`,
    fallRun: (from: string, oneIn: number) => `De ${from} cae al desagüe: 1 en ${oneIn}`,
    backward: (from: string) => `De ${from} cae al revés, lejos del desagüe`,
    isLevel: (from: string) => `De ${from} está a nivel`,
    fallShort: (count: number, run: string, needed: string) =>
      `${capital(counted(count, 'tramo', 'tramos', false))} de ${run} no se pueden decidir: con ${needed} sí`,
    notLooked: (joists: string) => `Nadie ha dicho si están sanas: ${joists}`,
  },
  method: {
    title: 'Cómo se leyó',
    readings: (sd: string, setups: number) =>
      `Cada lectura ${sd} (k = 2), ${counted(setups, 'estación', 'estaciones')}.`,
    closing: (closing: string) => `Cierra a ${closing} en la marca.`,
    straightedge:
      'Regla: una barra rígida que descansa en dos puntos de la línea; el hueco se toma entre ellos. Dentro, fuera o sin decidir cuenta ya la incertidumbre.',
    noise: 'El solo error: lo que mostraría un piso perfecto leído así, en promedio y una vez en veinte.',
    guarded: 'Dentro quiere decir dentro por más que la incertidumbre.',
    strength: 'Aquí se mide la forma, nunca la resistencia.',
  },
  table: {
    caption: 'Lecturas como se anotaron, y cómo queda cada una frente a la referencia del mapa',
    point: 'punto',
    joist: 'vigueta',
    line: 'fila',
    reading: 'lectura',
    height: 'altura',
    unread: 'sin leer',
  },
  marks: {
    title: 'Gis en el piso',
    amount: (name: string, amount: string, high: boolean) => `${name} ${amount} ${high ? 'alto' : 'bajo'}`.trim(),
  },
}

export const map = {
  label: (highs: string[], lows: string[], bar?: string) =>
    [
      'Mapa del piso.',
      highs.length ? `Altos: ${listed(highs)}.` : '',
      lows.length ? `Bajos: ${listed(lows)}.` : '',
      bar ? `La regla muestra ${bar}.` : '',
      'La tabla dice lo mismo.',
    ]
      .filter(Boolean)
      .join(' '),
  mark: (high: boolean, amount: string) => `${amount} ${high ? 'alto' : 'bajo'}`,
  gap: (gap: string) => `hueco ${gap}`,
  doorway: 'puerta',
  drain: 'desagüe',
  entry: 'entrada',
  larger: 'Más grande',
  smaller: 'Más chico',
  lowest: (amount: string) => `${amount} abajo`,
  highest: (amount: string) => `${amount} arriba`,
  water: 'Ondas: aquí se estanca el agua, según lo leído.',
  middle: 'un solo nivel',
}

export const solid = {
  title: 'Tres dimensiones',
  label: (factor: number) =>
    `El piso como se leyó, las alturas ${factor} veces más grandes. El mapa y la tabla dicen lo mismo.`,
  exaggeration: 'Alturas más grandes por',
  times: (factor: number) => `${factor}×`,
  left: 'Girar a la izquierda',
  right: 'Girar a la derecha',
  waiting: 'Dibujando …',
  cannot: 'Este aparato no puede dibujarlo. El mapa dice lo mismo.',
  show: 'Ver en tres dimensiones',
}

export const profile = {
  label: (name: string, gap: string | undefined, at: string | undefined, points: number) =>
    gap && at ? `${name}: la regla muestra ${gap} a ${at}.` : `${name}: ${points} puntos, sin hueco bajo la regla.`,
  exaggerated: (factor: number) => `Las alturas se dibujan ${factor} veces más grandes que los largos, igual en todas.`,
  figures: 'Cifras: como se leyeron.',
  limit: (limit: string) => `A rayas: el hueco permitido, ${limit}.`,
  none: 'Ninguna línea tiene todavía dos lecturas.',
}
