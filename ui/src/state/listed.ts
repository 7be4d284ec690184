/** The entries of a pasted list: its lines and cells, blank ones left out. A comma between digits is a decimal sign. */
export function listed(text: string): string[] {
  return text
    .split(/[\r\n\t;]+|,(?!\d)/)
    .map((entry) => entry.trim())
    .filter((entry) => entry !== '' && entry.length <= 24)
}
