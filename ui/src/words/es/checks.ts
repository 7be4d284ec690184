export const another = {
  title: 'Otra lectura',
  smallest: (joist: string, from: string, to: string) =>
    `Corra la cinta sobre *${joist}* de ${from} a ${to} y busque el número más chico. ¿Dónde está y cuánto es?`,
  largest: (joist: string, from: string, to: string) =>
    `Corra la cinta sobre *${joist}* de ${from} a ${to} y busque el número más grande. ¿Dónde está y cuánto es?`,
  here: (place: string) => `Lea el piso en *${place}*.`,
  joist: 'Vigueta',
  where: 'Dónde está',
  from: (wall: string) => `desde: ${wall}`,
  number: 'Cuánto es',
  keep: 'Guardarla',
  kept: (place: string, text: string) => `${place}: ${text} guardado.`,
  noSetup: 'El nivel ya se quitó: su estación está cerrada. Póngalo otra vez, lea la marca y vuelva aquí.',
  stand: 'Poner el nivel',
  seek: 'Buscarlo',
  advice: {
    title: 'Dónde ayuda más otra lectura',
    why: {
      unread: 'todavía sin leer',
      'least-known': 'aquí es donde menos se conoce el piso',
      undecided: 'aquí es donde menos se sabe si está muy alto',
    },
    sd: (sd: string) => `se conoce a ${sd}`,
    go: 'Leer aquí',
  },
}

export const chalk = {
  title: 'Marcar el piso',
  start: 'Marcar el piso',
  none: 'Nada sobresale: no hay qué marcar.',
  draw: (high: boolean): string => (high ? 'Ponga una X con gis' : 'Ponga una O con gis'),
  write: (amount: string) => `y escriba *${amount}* al lado`,
  high: 'alto',
  low: 'bajo',
  from: (wall: string) => `desde: ${wall}`,
  done: 'Marcado',
  back: 'Atrás',
  count: (done: number, all: number) => `${done} de ${all} marcados`,
  all: 'Todo marcado.',
  allThen: 'Primero los altos: rebaje o cepille; luego llene los bajos; luego lea otra vez.',
  caution:
    '*Rebajar o cepillar:* sílice, plomo, asbesto, clavos, cables. Analice primero, en mojado o con aspiradora, con mascarilla.',
}

export const compare = {
  title: 'Antes y después',
  again: 'Leer los mismos puntos otra vez',
  againNote: 'Después de la obra: los mismos lugares, desde la misma marca. Lo leído antes se queda como está.',
  after: (name: string) => `${name}, después`,
  none: 'Todavía nada se ha leído dos veces.',
  pick: 'Se comparan',
  changed: (count: number, all: number) => `${count} de ${all} puntos cambiaron de verdad.`,
  unchanged: 'Ningún cambio más allá del error de lectura.',
  range: (before: string, after: string) =>
    `El más alto sobre el más bajo, sin la pendiente pareja: ${before} antes, *${after}* después.`,
  raised: 'subió',
  lowered: 'bajó',
  same: 'sin cambio real',
  unmatched: (count: number) =>
    count === 1 ? 'Un punto se leyó una sola vez.' : `${count} puntos se leyeron una sola vez.`,
  columns: { point: 'punto', before: 'antes', after: 'después', change: 'cambio' },
  caption: 'Alturas sobre la marca, y cómo cambió cada una',
}

export const checks = {
  title: 'Revisar el nivel',
  sub: 'antes de confiar en él',
  peg: '¿La línea está a nivel?',
  pegLead: 'Dos marcas en dos paredes. Ponga el nivel primero a la mitad entre ellas, luego junto a la primera.',
  middle: 'Desde la mitad',
  beside: 'Junto a la primera marca',
  first: 'primera marca',
  second: 'segunda marca',
  apart: 'Entre las marcas',
  reach: 'El punto más lejano de este cuarto',
  judge: '¿Está bien?',
  tilt: (up: boolean, slope: string) => `La línea ${up ? 'sube' : 'baja'} al alejarse: ${slope}.`,
  error: (error: string, reach: string, u: string) => `A ${reach} lee *${error}* mal, ${u}.`,
  level: 'No se halló inclinación.',
  means: {
    within: 'Basta para este cuarto.',
    out: 'No lea con él: mándelo ajustar, o tenga todos los puntos a la misma distancia.',
    'too-close-to-call': 'No se puede saber. Separe más las marcas, o lea cada una dos veces.',
    'not-tested': 'Sin comprobar.',
  },
  repeat: '¿Qué tan fino lee usted?',
  repeatLead: 'Lea el mismo punto cinco veces. Quite la cinta cada vez, y no mire el número anterior.',
  reading: (number: number) => `Lectura ${number}`,
  scatter: (spread: string, range: string) => `Usted lee a *${spread}* (k = 2); la mayor menos la menor ${range}.`,
  most: (most: string) => `Cinco lecturas no descartan ${most}.`,
  use: 'Leer con esta cifra de aquí en adelante',
  used: 'La próxima estación empieza con esta cifra.',
}

export const method = {
  decides: (limit: string, reach: string) => `Leyendo así de fino se puede decidir ${limit} bajo ${reach}.`,
  cannot: (limit: string, reach: string) => `Leyendo así no se puede dar por bueno ${limit} bajo ${reach}.`,
  would: (needs: string, readings: number) =>
    readings > 6
      ? `Con ${needs} sí, o con galga.`
      : `Con ${needs} sí, o con ${readings} lecturas en cada punto, o con galga bajo la regla.`,
  gauge: 'El recorrido con regla y galga sí puede.',
  untested: (reach: string) => `Estos puntos están muy separados para una regla de ${reach}: solo la galga lo dice.`,
  hides: (spacing: string) => `Lo que es más angosto que ${spacing} puede esconderse entre dos puntos.`,
  title: 'Qué puede decidir esto',
}

export const moved = {
  key: 'Golpearon el nivel',
  lead: 'Lea otra vez la marca sin tocar nada. Si lee lo mismo, siga.',
  goOn: 'Seguir leyendo',
  set: 'Apartar estas lecturas',
  setNote: (count: number) =>
    count === 1
      ? 'La única lectura de esta estación se pide otra vez.'
      : `Las ${count} lecturas de esta estación se piden otra vez.`,
}
