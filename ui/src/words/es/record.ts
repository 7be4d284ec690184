/** Un archivo que entra. */
export const incoming = {
  title: 'En este archivo',
  entries: (count: number) => (count === 1 ? 'una entrada' : `${count} entradas`),
  readings: (count: number) => (count === 1 ? 'una lectura' : `${count} lecturas`),
  last: (at: string) => `última entrada ${at}`,
  holds: 'Cada entrada encaja con la anterior.',
  byHand: 'Escrito a mano: no tiene historial, así que nada en él se puede probar.',
  here: {
    no: 'Este cuarto aún no está en este aparato.',
    same: 'Este cuarto ya está aquí, con las mismas entradas.',
    behind: 'Este cuarto ya está aquí. El archivo tiene más entradas, que se agregan.',
    ahead: 'Este cuarto ya está aquí, con todo lo del archivo y más.',
    differs: 'Este cuarto ya está aquí y siguió otro camino que el archivo.',
  },
  take: 'Traerlo',
  keepBoth: 'Guardar el archivo como otro cuarto',
  goTo: 'Ir al cuarto',
  leave: 'Dejarlo',
}
