export const call = {
  on: 'Leer en voz alta',
  off: 'Dejar de leer en voz alta',
  turn: 'Voltear la pantalla',
  point: (point: string) => point,
  said: (point: string, number: string) => `${point}: ${number}.`,
  next: (point: string) => `Sigue, ${point}.`,
  number: (text: string) => text.replace(/(\d)-(\d+\/)/, '$1 y $2'),
  closing: 'Ahora la marca otra vez.',
  speak: 'Decir el número',
  listening: 'Escuchando …',
  heard: (number: string) => `${number}. Siguiente lo guarda.`,
  notHeard: (said: string) =>
    said ? `“${said}” no es un número. Dígalo otra vez o tóquelo.` : 'No se oyó nada. Toque el número.',
  away: 'Este aparato puede enviar su voz al fabricante para entenderla.',
}

export const practice = {
  start: 'Practicar cinco minutos',
  note: 'Un cuarto inventado; la cinta se dibuja en el vidrio. Lea donde cruza la línea, tóquelo, siguiente.',
  room: 'Cuarto de práctica',
  tape: (number: string) => `La línea cruza la cinta en ${number}.`,
}

export const sheet = {
  title: 'Hoja de campo',
  lead: 'Imprímala, llénela a lápiz, anótela después.',
  print: 'Imprimir',
  room: 'Cuarto',
  date: 'Fecha',
  by: 'Leyó',
  instrument: 'Aparato y cinta',
  mark: 'Marca',
  start: 'Al principio',
  close: 'Al cierre',
  bumped: '¿Golpe? Lea otra vez la marca:',
  sense: {
    down: 'Hacia abajo desde la línea: más grande es más bajo',
    up: 'Hacia arriba desde la marca: más grande es más alto',
  },
  units: { in: 'Todo en pulgadas.', mm: 'Todo en milímetros.' },
  repeat: 'Lea un punto cinco veces:',
  framing: 'Estructura: rebota · podrida · cortada, muesca, rajada · mojada · medida · claro · fotos',
  none: 'Este cuarto no tiene puntos que leer.',
  record: 'En papel',
  recordLead: 'Una hoja con todos los puntos, para lápiz y tablilla.',
}

export const terms = {
  title: 'Palabras y dibujos',
  sub: 'qué quieren decir aquí',
  here: 'Qué quieren decir estas palabras',
  of: {
    down: [
      'Hacia abajo desde la línea',
      'La cinta sobre la vigueta; se lee donde cruza el centro de la línea. El número más grande es el lugar más bajo.',
    ],
    benchmark: [
      'Marca',
      'Algo que no se mueve. Se lee primero y al final: si algo se movió, las dos lecturas difieren.',
    ],
    closing: ['Cierre', 'La marca al final menos la marca al principio. Más de un dieciseisavo: otra vez.'],
    crown: ['Comba', 'Una vigueta que se arquea hacia arriba entre sus extremos.'],
    sag: ['Hundimiento', 'Una vigueta que cuelga entre sus extremos.'],
    twist: ['Torcedura', 'Un canto queda más alto que el otro. El más alto carga la lámina.'],
    rest: ['Las demás', 'La pendiente pareja de las viguetas derechas. Contra ella se dice cuál está alta o baja.'],
    straightedge: ['Regla', 'Una barra rígida sobre dos puntos altos. El hueco se toma entre ellos.'],
    close: ['No se puede decidir', 'El límite cae dentro de la incertidumbre. Lea otra vez, o use galga.'],
    strip: ['Tira', 'Una sola pieza corrida sobre la vigueta, nunca calzas sueltas.'],
    sister: ['Gemela', 'Una segunda vigueta recta junto a la primera, de apoyo a apoyo.'],
    third: ['Tercio medio', 'Donde la vigueta trabaja más. Ahí no se corta nada de arriba sin autorización.'],
  } as Record<string, [string, string]>,
}
