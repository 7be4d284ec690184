/** The numerals of a language, as somebody calls a reading: what is said, and what is written for it. */
type Numerals = {
  /** Numbers that add to what stands before them: `forty` `four`. */
  ones: Record<string, number>
  /** Numbers that multiply it: `hundred`. */
  times: Record<string, number>
  /** The lower part of a fraction. */
  under: Record<string, number>
  /** A half or a quarter said in one word, with its upper part: `a half`. */
  whole: Record<string, string>
  point: string[]
  and: string[]
  minus: string[]
  feel: Record<string, 'strong' | 'shy'>
}

const small = (words: string) => Object.fromEntries(words.split(' ').map((word, value) => [word, value]))
const tens = (words: string) => Object.fromEntries(words.split(' ').map((word, k) => [word, 10 * (k + 2)]))

const english: Numerals = {
  ones: {
    ...small(
      'zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen',
    ),
    ...tens('twenty thirty forty fifty sixty seventy eighty ninety'),
    oh: 0,
  },
  times: { hundred: 100, thousand: 1000 },
  under: {
    half: 2,
    halves: 2,
    quarter: 4,
    quarters: 4,
    fourth: 4,
    fourths: 4,
    eighth: 8,
    eighths: 8,
    sixteenth: 16,
    sixteenths: 16,
    'thirty-second': 32,
    'thirty-seconds': 32,
  },
  whole: { 'a half': '1/2', 'a quarter': '1/4', 'an eighth': '1/8', 'a sixteenth': '1/16' },
  point: ['point'],
  and: ['and'],
  minus: ['minus', 'negative'],
  feel: { strong: 'strong', full: 'strong', heavy: 'strong', shy: 'shy', bare: 'shy', light: 'shy' },
}

const spanish: Numerals = {
  ones: {
    ...small(
      'cero uno dos tres cuatro cinco seis siete ocho nueve diez once doce trece catorce quince dieciséis diecisiete dieciocho diecinueve',
    ),
    ...tens('veinte treinta cuarenta cincuenta sesenta setenta ochenta noventa'),
    ...Object.fromEntries(
      'veintiuno veintidós veintitrés veinticuatro veinticinco veintiséis veintisiete veintiocho veintinueve'
        .split(' ')
        .map((word, k) => [word, 21 + k]),
    ),
    un: 1,
    una: 1,
    cien: 100,
    ciento: 100,
    doscientos: 200,
    trescientos: 300,
    cuatrocientos: 400,
    quinientos: 500,
    seiscientos: 600,
    setecientos: 700,
    ochocientos: 800,
    novecientos: 900,
  },
  times: { mil: 1000 },
  under: {
    medio: 2,
    medios: 2,
    cuarto: 4,
    cuartos: 4,
    octavo: 8,
    octavos: 8,
    dieciseisavo: 16,
    dieciseisavos: 16,
    treintaidosavo: 32,
    treintaidosavos: 32,
  },
  whole: { media: '1/2', medio: '1/2' },
  point: ['punto', 'coma'],
  and: ['y'],
  minus: ['menos'],
  feel: { largo: 'strong', corto: 'shy' },
}

/** What a transcript means as the text of a reading: `44-3/16`, `1122.5`; nothing where it is no number. */
export function readingIn(transcript: string, language: string): string | undefined {
  const numerals = language.startsWith('es') ? spanish : english
  const said = parts(transcript, numerals)
  const minus = said.some((word) => numerals.minus.includes(word)) || /^\s*[-\u2212]\s*\d/.test(transcript)
  const feel = said.map((word) => numerals.feel[word]).find(Boolean)
  const number = numberIn(
    said.filter((word) => !numerals.minus.includes(word) && !numerals.feel[word]),
    numerals,
  )
  return number === undefined ? undefined : [`${minus ? '-' : ''}${number}`, feel].filter(Boolean).join(' ')
}

/** The words of a transcript, one by one; fractions and decimals written in figures stay whole. */
function parts(transcript: string, { whole }: Numerals): string[] {
  let text = transcript.toLowerCase().replace(/(inches|inch|millimetres|millimeters|pulgadas?|mil[ií]metros?)/g, ' ')
  text = text.replace(/thirty[ -]second/g, 'thirty-second').replace(/treinta y dos ?avo/g, 'treintaidosavo')
  for (const [words, figures] of Object.entries(whole)) text = text.replace(new RegExp(`\\b${words}\\b`, 'g'), figures)
  return text
    .replace(/(twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)-(?!second)/g, '$1 ')
    .replace(/(\d)-(?=\d)/g, '$1 ')
    .replace(/(\d),(?=\d)/g, '$1.')
    .split(/[\s\u2212]+|(?<!\S)-|[.!?](?!\d)/)
    .filter(Boolean)
}

/** A whole number, then a fraction or decimals. */
function numberIn(said: string[], numerals: Numerals): string | undefined {
  const at = said.findIndex((word) => numerals.point.includes(word))
  if (at >= 0) return decimals(said.slice(0, at), said.slice(at + 1), numerals)
  const last = said.at(-1)
  const written = last?.match(/^(\d+)\/(\d+)$/)
  if (written) return joined(wholeOf(said.slice(0, -1), numerals), Number(written[1]), Number(written[2]))
  const under = last === undefined ? undefined : numerals.under[last]
  if (under !== undefined) return spokenFraction(said.slice(0, -1), under, numerals)
  if (said.length === 1 && /^\d+\.\d+$/.test(last!)) return last
  return wholeOf(said, numerals)?.toString()
}

function decimals(whole: string[], behind: string[], numerals: Numerals): string | undefined {
  const before = whole.length === 0 ? 0 : wholeOf(whole, numerals)
  const digits = behind.map((word) => (/^\d+$/.test(word) ? word : numerals.ones[word]?.toString()))
  if (before === undefined || digits.length === 0 || digits.includes(undefined)) return undefined
  return `${before}.${digits.join('')}`
}

/** The upper part of a fraction is the last number before its lower part, `and` or not. */
function spokenFraction(said: string[], under: number, numerals: Numerals): string | undefined {
  const over = wholeOf(said.slice(-1), numerals)
  if (over === undefined) return undefined
  return joined(wholeOf(said.slice(0, -1), numerals), over, under)
}

function joined(whole: number | undefined, over: number, under: number): string | undefined {
  if (over >= under || over < 0 || ![2, 4, 8, 16, 32, 64].includes(under)) return undefined
  return over === 0 ? `${whole ?? 0}` : `${whole ? `${whole}-` : ''}${over}/${under}`
}

/** A whole number from its words; nothing where one of them is none. */
function wholeOf(said: string[], { ones, times, and }: Numerals): number | undefined {
  const words = said.filter((word) => !and.includes(word))
  if (words.length === 0) return undefined
  let [all, part] = [0, 0]
  for (const word of words) {
    const figure = /^\d+$/.test(word) ? Number(word) : ones[word]
    if (figure !== undefined && fits(part, figure)) part += figure
    else if (times[word] === 1000) [all, part] = [all + Math.max(part, 1) * 1000, 0]
    else if (word in times) part = Math.max(part, 1) * times[word]!
    else return undefined
  }
  return all + part
}

/** Whether a number can be said behind another and be one with it: `forty` `four`, never `four` `three`. */
function fits(before: number, figure: number): boolean {
  return before === 0 || (figure > 0 && before % 10 ** `${figure}`.length === 0 && before % 100 !== 10)
}
