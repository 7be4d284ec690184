export const height = { title: 'Height' }
export const cutList = { title: 'Cut list' }
