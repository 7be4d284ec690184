import type { Action } from '../../bridge/generated/Action'
import { counted, listed } from './count'

const names: Record<string, string> = {
  'level-nothing-cut': 'A nivel, sin cortar nada',
  'level-dressed': 'A nivel, cepillando donde se permite',
  'level-by-approval': 'A nivel, cepillando la vigueta alta',
  'level-sister-high': 'A nivel, con gemela también en la alta',
  'flat-not-level': 'Plano sin nivel, sin cortar nada',
  held: 'A nivel, a la altura que usted fija',
}

export const why = {
  unsound: 'No está sana: póngale gemela, o pregunte al ingeniero, a cualquier altura.',
  sags: 'Se hunde entre sus extremos: mire por debajo, luego gemela o ingeniero.',
  'not-read': 'Sin leer.',
  'lift-too-large': (lift: string) => `Está ${lift} baja, más de lo que suple una tira.`,
  governs: 'Ella manda la altura: con gemela también, su canto viejo se puede rebajar.',
  'old-top-above': (by: string) => `Su canto viejo queda ${by} sobre la meta: pregunte antes de rebajarlo.`,
  dressing: (depth: string, from: string, to: string) => `Cepillar ${depth} de ${from} a ${to}.`,
  'by-approval': (depth: string, from: string, to: string) =>
    `Cortar ${depth} de ${from} a ${to}: lo cubre la autorización anotada.`,
  'needs-approval': (depth: string, from: string, to: string) => `Solo con autorización: ${depth} de ${from} a ${to}.`,
}

export const forbids = {
  engineered: () => 'Una pieza de fábrica no se corta si su fabricante o un proyectista no lo permite.',
  'unknown-kind': () => 'Nadie ha dicho qué pieza es: mire primero y no corte nada.',
  'middle-third': () => 'El corte llega al tercio medio del claro, donde no se permite ninguna muesca.',
  'dressing-too-deep': (limit: string, notch: string) =>
    `Más largo que ${notch} ya es cepillar, y cepillar llega a ${limit}.`,
  'notch-too-deep': (limit: string) => `Aquí una muesca llega a ${limit}.`,
  'not-dressing': (limit: string) => `El plan cepilla una vigueta hasta ${limit} y no más.`,
  'outside-approval': () => 'El corte se sale de lo que cubre la autorización.',
  'deeper-than-approved': (limit: string) => `La autorización llega a ${limit} y no más.`,
  'bore-too-wide': (limit: string) => `Aquí un agujero mide ${limit} a lo más.`,
  'bore-too-near': (limit: string) => `Un agujero deja ${limit} de madera a los cantos y a otros cortes.`,
}

export const approvals = {
  title: 'Autorizaciones',
  lead: 'Autoriza quien tiene facultad: el ingeniero, el fabricante de la pieza, el inspector. Sin una anotada no vale ningún corte de la lista, y ninguno se puede marcar.',
  recorded: 'Anotadas',
  none: 'Todavía ninguna.',
  count: (count: number) => (count === 0 ? 'ninguna' : count === 1 ? '1 anotada' : `${count} anotadas`),
  one: (joist: string, depth: string, from: string, to: string) =>
    `${joist}: ${depth} de hondo a lo más, de ${from} a ${to}`,
  by: (by: string, date: string, reference: string) => `${by}, ${date}, ${reference}`,
  withdraw: 'Retirar',
  record: 'Anotar una autorización',
  joist: 'Vigueta',
  depth: 'Hondo a lo más',
  from: 'De',
  to: 'A',
  fromNote: (wall: string) => `A lo largo de la vigueta, desde: ${wall}.`,
  who: 'La dio',
  whoNote: 'Nombre y con qué facultad.',
  date: 'El día',
  noDay: 'Ese día no está en el calendario. Escríbalo como 2026-03-02.',
  reference: 'Referencia',
  referenceNote: 'Carta, permiso o correo donde consta.',
  keep: 'Anotarla',
  missing: (fields: string) =>
    `Todavía falta: ${fields}. Qué se puede cortar, quién, cuándo y una referencia son lo que hace una autorización.`,
  question: (joist: string) => `Pregunta al ingeniero sobre ${joist}`,
  noCut: (joist: string) => `A ${joist} no se le corta nada a ninguna de las alturas.`,
  answer: 'Respuesta',
  answers: [
    'Permitido: sí / no',
    'Mayor profundidad',
    'De – a, a lo largo de la vigueta',
    'Con estas condiciones',
    'Nombre, cédula, fecha, firma',
  ],
  print: 'Imprimir la pregunta',
  rows: {
    member: 'Pieza',
    span: 'Claro libre',
    cut: 'Corte que se pide',
    left: 'Peralte que queda',
    third: 'Tercio medio',
    modulus: 'Módulo que se pierde',
    stiffness: 'Rigidez que se pierde',
    why: 'Por qué se pregunta',
  },
  member: (kind: string, depth: string) => `${kind}, peralte ${depth}`,
  cut: (depth: string, length: string, from: string, to: string) =>
    `${depth} de hondo, ${length} de largo: ${from} a ${to}`,
  third: (from: string, to: string, inside: boolean) =>
    `${from} a ${to}${inside ? ': el corte entra en él' : ': el corte queda fuera'}`,
  percent: (share: string) => `${share} %`,
  atDeepest: (share: string) => `${share} % en lo más hondo`,
  wholeLength: (share: string) => `${share} % si corriera todo el largo`,
  see: 'Autorizaciones',
  ask: 'Preguntar, o anotar una autorización',
}

/** Las alturas a las que se puede construir, lado a lado. */
export const height = {
  title: 'Altura',
  none: {
    title: 'Todavía no.',
    read: 'Empezar a leer',
  },
  name: (id: string) => names[id] ?? id,
  hold: (figure: string) => `Fije ${figure} debajo de la línea`,
  over: (figure: string) => `Fije ${figure} sobre la marca`,
  flat: 'Plano, sin nivel',
  runs: (rise: string, length: string, wall: string) => `Sube ${rise} en ${length} desde: ${wall}.`,
  runsDown: (rise: string, length: string, wall: string) => `Baja ${rise} en ${length} desde: ${wall}.`,
  work: (strips: number, sisters: number, cuts: number, asks: number) => {
    const made = [counted(strips, 'tira'), counted(sisters, 'gemela')]
    const cut = cuts > 0 ? [counted(cuts, 'vigueta cortada', 'viguetas cortadas')] : []
    const asked = asks > 0 ? [`${counted(asks, 'vigueta')} para el ingeniero`] : []
    return listed([...made, ...(cuts + asks > 0 ? [...cut, ...asked] : ['nada cortado'])])
  },
  door: (rises: string[]) => (rises.length ? `La puerta sube ${listed(rises)}` : ''),
  eitherJamb: (one: string, other: string) =>
    one === other ? [`${one} en las dos jambas`] : [`${one} en una jamba`, `${other} en la otra`],
  allowed: (budget: string) => `se permite ${budget}`,
  needsApproval: 'necesita autorización anotada',
  approvalOnRecord: 'por la autorización anotada',
  overBudget: 'más de lo que permite la puerta',
  water: 'solo cuartos secos',
  best: 'mejor',
  chosen: 'elegida',
  columns: { hold: 'fijar', door: 'puerta', strips: 'tiras', sisters: 'gem.', cuts: 'cortes' },
  alternatives: 'Maneras de dejarlo plano',
  lower: (step: string) => `bajar −${step}`,
  higher: (step: string) => `subir +${step}`,
  doorMark: 'puerta',
  jumps: { high: 'punto alto', door: 'tope puerta', cheapest: 'menos obra' },
  slider: 'Altura que se fija',
  choose: 'Construir a esta altura',
  cutList: 'Lista de corte',
  seeCutList: 'Lista',
  cautions: {
    approval: (joists: string) =>
      `*Todavía no se corta:* ${joists}. Alguien con facultad tiene que autorizar el corte, y hay que anotarlo aquí.`,
    askFirst: 'Esta altura necesita una autorización antes de empezar.',
    budget: (most: string, budget: string) => `*La puerta sube ${most}*; el piso del pasillo deja ${budget}.`,
    water: '*El agua derramada corre al lado bajo.* Solo para cuartos secos; nunca donde se derrama agua.',
    unlooked: (joists: string[]) =>
      joists.length > 2
        ? '*Nadie ha mirado la estructura.* Aquí se mide la forma, nunca la resistencia.'
        : `*Nadie ha mirado ${listed(joists)}.* Aquí se mide la forma, nunca la resistencia.`,
  },
}

export const cutList = {
  title: 'Lista de corte',
  sub: (room: string, name: string) => `${room} · ${name}`,
  done: (done: number, all: number) => `${done} de ${all} hechas`,
  caption: {
    in: (wall: string) =>
      `Pulgadas hacia arriba desde la vigueta como está, sobre pulgadas desde: ${wall}. Cada una de una pieza, nunca calzas sueltas.`,
    mm: (wall: string) =>
      `mm hacia arriba desde la vigueta como está, sobre mm desde: ${wall}. Cada una de una pieza, nunca calzas sueltas.`,
  },
  action: {
    leave: 'dejar como está',
    sheet: 'lámina',
    strip: 'tira',
    'tall-strip': 'tira alta de madera de 2x',
    sister: 'vigueta gemela',
    dress: 'cepillar',
    'dress-and-strip': 'cepillar y tira',
    'ask-engineer': 'preguntar al ingeniero',
  } satisfies Record<Action, string>,
  strips: (count: number) => counted(count, 'tira'),
  lengths: (work: string, lengths: string[]) => `${work}, ${listed(lengths)}`,
  bare: 'sin nada en medio: menos que la tira mínima no vale la pena',
  sister:
    'A rayas: cuánto está baja. La gemela es recta y seca, va de apoyo a apoyo, y no sube más que las viejas bajo paredes y pasillo. Lea otra vez su canto antes de cortar la tira.',
  sisterCaution: 'Antes de clavar: busque los cables y los tubos en el vano.',
  dressCaution:
    'Antes de cepillar: saque los clavos, busque cables y tubos. La pintura vieja puede tener plomo y las bases viejas asbesto: analice primero y no levante polvo.',
  stockCaution:
    '*Cortar o cepillar madera vieja:* clavos ocultos, pintura con plomo, asbesto, sílice. Analice primero, sin polvo, con mascarilla.',
  approved: (by: string, date: string, reference: string) => `Autorizó ${by}, ${date}, ${reference}`,
  notAllowed: 'no se corta sin una autorización anotada',
  forbidden: (joists: string[]) =>
    `*${listed(joists)} ${joists.length === 1 ? 'no se cepilla' : 'no se cepillan'}* sin una autorización anotada. Pregunte primero a un ingeniero.`,
  onlyAs: (joist: string, depth: string, from: string, to: string) =>
    `*${joist} se corta solo como se autorizó:* ${depth} de hondo a lo más, de ${from} a ${to}.`,
  noCut: '*Ninguna vigueta se corta sin una autorización anotada.* Aquí se mide la forma, nunca la resistencia.',
}
