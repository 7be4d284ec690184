//! What comes in from other devices: the crew's door, and the radio of instruments. Both keep real time with what is at
//! the other end, so nothing that keeps the processors busy runs beside them.

mod crew;
mod radio;
