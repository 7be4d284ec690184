//! The store from outside: what is acknowledged is kept, what is damaged is found, what is replayed is equal.

mod commands;
mod damage;
mod kills;
mod permissions;
mod replay;
