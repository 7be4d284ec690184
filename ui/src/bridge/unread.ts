/** Stands for a number nobody has understood yet: no length that is read on site. It is never sent. */
export const UNREAD = 1e-300
