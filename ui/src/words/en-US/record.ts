/** A file that comes in. */
export const incoming = {
  title: 'In this file',
  entries: (count: number) => (count === 1 ? 'one entry' : `${count} entries`),
  readings: (count: number) => (count === 1 ? 'one reading' : `${count} readings`),
  last: (at: string) => `last entry ${at}`,
  holds: 'Every entry fits the one before it.',
  byHand: 'Written by hand: it has no journal, so nothing in it can be proved.',
  here: {
    no: 'This room is not on this device yet.',
    same: 'This room is here already, with the same entries.',
    behind: 'This room is here already. The file has more entries, which are added.',
    ahead: 'This room is here already, with everything in the file and more.',
    differs: 'This room is here already and went another way than the file.',
  },
  take: 'Take it in',
  keepBoth: 'Keep the file as a second room',
  goTo: 'Go to the room',
  leave: 'Leave it',
}
