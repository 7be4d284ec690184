import type * as US from '../en-US/works'
import { counted } from './count'

export const plainUnit: typeof US.plainUnit = {
  cubicFeet: 'ft³',
  litres: 'L',
  pounds: 'lb',
  kilograms: 'kg',
  poundsPerFoot: 'lb/ft²',
  kilogramsPerMetre: 'kg/m²',
  gallons: 'gal/min',
  waterGallons: 'gal',
  inchesPerFoot: 'in/pie',
  litresPerMinute: 'L/min',
  squareFeet: 'ft²',
  squareMetres: 'm²',
}

export const keep: typeof US.keep = { keep: 'Guardar esto', drop: 'Volver a lo guardado' }

export const pour: typeof US.pour = {
  title: 'Nivelador y camas',
  start: 'Cuántas bolsas, qué grueso, qué peso, y por dónde se escaparía.',
  begin: 'Empezar con lo usual',
  kind: 'Qué se pone',
  kinds: { compound: 'Nivelador', bed: 'Cama de mortero con caída' },
  over: 'Grueso sobre la lectura más alta',
  overNote: 'Al menos el grueso mínimo de su hoja. Con 0 termina en nada en la lectura más alta.',
  atDrain: 'Grueso en el desagüe',
  rise: 'Cuánto más alto queda el borde lejano',
  bag: 'De la bolsa y su hoja',
  product: 'Cómo se llama, con su lote',
  yield: 'Una bolsa rinde',
  bagWeight: 'Una bolsa, mezclada, pesa',
  least: 'Grueso mínimo',
  most: 'Grueso máximo',
  waste: 'De merma',
  loadMost: 'El piso puede cargar',
  loadNote: 'Lo que el piso puede cargar lo dice un ingeniero; vacío, nada se juzga por ello.',
  bags: (bags) => (bags === 1 ? 'Una bolsa' : `${bags} bolsas`),
  over2: (volume, area) => `${volume} sobre ${area}.`,
  weighs: (mass) => `Puesto, pesa ${mass}.`,
  noYield: 'Escriba cuánto rinde una bolsa para saber cuántas.',
  hold: (hold) => `Su cara queda ${hold} bajo la línea.`,
  at: (point) => ` en ${point}`,
  thinnest: (depth, at) => `Lo más delgado ${depth}${at}`,
  thickest: (depth, at) => `Lo más grueso ${depth}${at}`,
  heaviest: (load) => `Lo más pesado ${load}`,
  load: (load) => `${load} en conjunto. Pregunte si el piso puede cargarlo.`,
  atLeast: (limit) => `al menos ${limit}`,
  atMost: (limit) => `a lo más ${limit}`,
  sheet: 'por su hoja, como usted lo escribió',
  engineer: 'como usted lo escribió',
  bare: (points) => `Termina en nada en ${points}.`,
  doorway: 'la puerta',
  entry: 'la entrada',
  dam: (opening, wide) => (height) =>
    `Tape ${opening}, ${wide} de ancho, al menos ${height} de alto, antes de mezclar nada.`,
  depths: 'Grueso en cada lectura',
  list: 'En lista',
  caution:
    'Atornille, tape todo agujero y rendija, imprima como dice su hoja. Encuentra toda salida y corre al techo de abajo. No puede hacer pendiente. Poco polvo, guantes puestos.',
  cautionBed: 'El mortero fresco pesa y quema la piel. Pregunte si las viguetas pueden cargarlo antes de mezclar.',
  trust: 'Aritmética sobre lo que escribió. Deciden la hoja del producto, el código local y el ingeniero.',
}

export const fall: typeof US.fall = {
  title: 'Pendiente al desagüe',
  edge: (rise) => `El borde queda ${rise} sobre el desagüe`,
  slope: (fall) => `Cae ${fall} desde el extremo lejano.`,
  shape: 'El borde',
  shapes: { level: 'A nivel en todo el contorno', even: 'Un solo plano parejo' },
  origin: 'Pendiente medida desde',
  origins: { centre: 'El centro del desagüe', rim: 'Su borde' },
  rise: 'Borde sobre el desagüe',
  riseNote: (rise) => `Vacío toma ${rise}: la de las capas, o el medio de lo posible.`,
  flow: 'La regadera da',
  conflicts: {
    'at-one-value': (rule, at) =>
      `La mínima de aquí y la máxima de “${rule}” son las dos ${at}: un solo valor cumple ambas, y ninguna lectura puede probarlo. Acuerden una tolerancia.`,
    never: (rule, least, most) =>
      `Nada cumple ambas: la mínima de aquí es ${least}, “${rule}” permite a lo más ${most}.`,
  },
  problems: {
    'drain-outside': 'El desagüe queda fuera del cuarto. Muévalo en el plano.',
    'drain-at-edge': 'El desagüe toca el borde, que ahí no puede ir a nivel: el piso se hace como un solo plano.',
  },
  rules: 'Todas las reglas lado a lado',
  between: (least, most) => `${least} a ${most}`,
  atLeast: (least) => `al menos ${least}`,
  atMost: (most) => `a lo más ${most}`,
  square: 'a escuadra del desagüe',
  can: (needs, allows) => `Un borde a nivel de ${needs} a ${allows} la cumple.`,
  canFrom: (needs) => `Un borde a nivel de ${needs} o más la cumple.`,
  canEven: 'Un solo plano la cumple.',
  cannot: (needs, allows) =>
    `Ningún borde a nivel: la esquina lejana pide ${needs}, la pared cercana permite ${allows}.`,
  cannotEven: 'Ningún plano la cumple.',
  chosen: 'vale aquí',
  change: 'Elegir otra en Reglas',
  marks: 'Marcas en las paredes',
  marksLead:
    'Cada altura es sobre el desagüe. Las distancias corren por la pared desde la esquina donde se junta con la pared anterior de esta lista; la primera empieza en la esquina desde la que se miden todas.',
  wall: (name, length) => `${name} · ${length}`,
  across: (name) => `frente a: ${name}`,
  wallN: (n) => `pared ${n}`,
  isEntry: 'línea de entrada',
  flat: (height) => `${height} en toda su longitud`,
  markAt: (height, along) => `${height} a ${along}`,
  entryOff:
    'Las marcas de la línea de entrada no van a una altura: el agua y las ruedas lo notan. Tome un borde a nivel, o gire el plano.',
  entry: 'Línea de entrada como quedó',
  entrySaid: (difference, high, low) => `Fuera de nivel por ${difference}: ${high} alto, ${low} bajo`,
  hold: 'Antes de que el agua pase la entrada',
  holds: (volume, deepest) => `El piso retiene ${volume}, ${deepest} en lo más hondo, con el desagüe tapado.`,
  asRead: 'Según las lecturas.',
  asDesigned: 'Según el diseño, antes de hacer el piso.',
  lasts: (minutes, flow) => `Eso dura ${minutes} minutos a ${flow}.`,
  correct: 'Corregirlo',
  fills: (count) => `Rellene en ${counted(count, 'lugar', 'lugares', false)}`,
  none: 'Solo rellenar no lo corrige.',
  fillAt: (depth, point) => `Rellene ${depth} en ${point}`,
  fades: (points) => `Hasta nada en ${points}.`,
  takes: (volume, fall) => `${volume} en total, a una pendiente de ${fall}.`,
  left: (runs) => `Muy alto en ${runs}: quítelo, o hágalo de nuevo. Ningún relleno lo corrige.`,
  checked: (doubtful) =>
    doubtful > 0
      ? 'Revisado de nuevo con los rellenos puestos: nada queda fuera y no se estanca agua. Lo que no se podía decidir sigue así: lea los mismos puntos otra vez, luego esos tramos con galga.'
      : 'Revisado de nuevo con los rellenos puestos: nada queda fuera y no se estanca agua.',
  notProposed: (out, ponds) =>
    `No se propone: con estos rellenos quedaría fuera ${counted(out, 'hallazgo', 'hallazgos', false)} y se estancaría agua en ${counted(ponds, 'lugar', 'lugares', false)}.`,
  again:
    'Lea los mismos puntos después de rellenar. Prueba de agua con tope en la entrada y una cubeta al lado que muestre lo que se evapora.',
  window: 'Dónde puede ir el desagüe',
  begin: 'Un piso cae a un desagüe. Ponga antes el desagüe en el plano.',
  trust: 'Las reglas de pendiente son leídas o recordadas: vea su edición. Decide el código local.',
}
