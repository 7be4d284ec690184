//! The adapter: opened, watched, searched with, and opened again.

use super::hall::{Hall, Pace};
use super::trouble::condition;
use crate::radio::{Found, RadioEvent, Uuid};
use crate::state::Adapter;
use btleplug::api::{Central, CentralEvent, CentralState, Manager as _, Peripheral as _, ScanFilter};
use btleplug::platform::{Adapter as Platform, Manager, PeripheralId};
use futures::StreamExt;
use std::future::Future;
use std::sync::Arc;
use tokio::sync::mpsc::{Sender, UnboundedReceiver};
use tokio::time::{MissedTickBehavior, interval, timeout};

/// What is wanted of the radio.
pub(super) enum RadioOrder {
    SwitchOn,
    Search(bool),
}

/// The radio as it is watched.
struct Watch {
    hall: Arc<Hall>,
    tell: Sender<RadioEvent>,
    told: Option<Adapter>,
    searching: bool,
}

/// Works until nobody gives orders any more.
pub(super) async fn run(hall: Arc<Hall>, mut orders: UnboundedReceiver<RadioOrder>, tell: Sender<RadioEvent>) {
    let mut watch = Watch { hall, tell, told: None, searching: false };
    loop {
        let lived = match watch.open().await {
            Ok((manager, adapter)) => watch.live(&manager, adapter, &mut orders).await,
            Err(condition) => {
                watch.condition(condition).await;
                watch.rest(&mut orders).await
            }
        };
        watch.hall.set(None);
        if !lived {
            return;
        }
    }
}

type Opened = (Manager, Platform);

impl Watch {
    fn pace(&self) -> Pace {
        self.hall.pace
    }

    /// Waits for an answer of the platform only so long; no answer is no service.
    async fn answered<T>(&self, asked: impl Future<Output = btleplug::Result<T>>) -> Result<T, Adapter> {
        let answer = timeout(self.pace().answer, asked).await.map_err(|_| Adapter::NoService)?;
        answer.map_err(|error| condition(&error))
    }

    async fn open(&self) -> Result<Opened, Adapter> {
        let manager = self.answered(Manager::new()).await?;
        let adapter = self.first(&manager).await?;
        Ok((manager, adapter))
    }

    async fn first(&self, manager: &Manager) -> Result<Platform, Adapter> {
        self.answered(manager.adapters()).await?.into_iter().next().ok_or(Adapter::NoAdapter)
    }

    /// Between two attempts to open: whether there may be another.
    async fn rest(&mut self, orders: &mut UnboundedReceiver<RadioOrder>) -> bool {
        let until = tokio::time::sleep(self.pace().beat);
        tokio::pin!(until);
        loop {
            tokio::select! {
                () = &mut until => return true,
                order = orders.recv() => match order {
                    Some(RadioOrder::Search(on)) => self.searching = on,
                    Some(RadioOrder::SwitchOn) => {}
                    None => return false,
                },
            }
        }
    }

    /// One life of one adapter stream; whether there may be another.
    async fn live(&mut self, manager: &Manager, adapter: Platform, orders: &mut UnboundedReceiver<RadioOrder>) -> bool {
        let Ok(mut events) = self.answered(adapter.events()).await else { return self.rest(orders).await };
        self.hall.set(Some(adapter.clone()));
        let mut beat = interval(self.pace().beat);
        beat.set_missed_tick_behavior(MissedTickBehavior::Delay);
        loop {
            tokio::select! {
                order = orders.recv() => match order {
                    Some(order) => self.obey(&adapter, order).await,
                    None => return false,
                },
                event = events.next() => match event {
                    Some(event) => self.hear(&adapter, event).await,
                    None => return true,
                },
                _ = beat.tick() => if !self.is_there(manager).await {
                    return true;
                },
            }
        }
    }

    /// Asks the platform how it stands; false where it does not answer, so that all is opened anew.
    async fn is_there(&mut self, manager: &Manager) -> bool {
        let answered = timeout(self.pace().answer, manager.adapters()).await;
        let stands = match answered {
            Err(_) => {
                self.condition(Adapter::NoService).await;
                return false;
            }
            Ok(Err(error)) => condition(&error),
            Ok(Ok(adapters)) => match adapters.into_iter().next() {
                None => Adapter::NoAdapter,
                Some(adapter) => self.powered(&adapter).await,
            },
        };
        self.condition(stands).await;
        true
    }

    async fn powered(&self, adapter: &Platform) -> Adapter {
        match self.answered(adapter.adapter_state()).await {
            Ok(CentralState::PoweredOff) => Adapter::SwitchedOff,
            Ok(_) => Adapter::On,
            Err(condition) => condition,
        }
    }

    /// Tells the condition of the radio if it is another than before.
    async fn condition(&mut self, condition: Adapter) {
        if self.told != Some(condition) {
            self.told = Some(condition);
            self.searching = self.searching && condition == Adapter::On;
            // Nobody polls any more: then the orders end as well.
            let _ = self.tell.send(RadioEvent::Adapter(condition)).await;
        }
    }

    async fn obey(&mut self, adapter: &Platform, order: RadioOrder) {
        match order {
            // Beginning to search is what switches the radio on; it is begun because a person said so.
            RadioOrder::SwitchOn => {
                if self.answered(adapter.start_scan(ScanFilter::default())).await.is_ok() && !self.searching {
                    let _ = self.answered(adapter.stop_scan()).await;
                }
                let stands = self.powered(adapter).await;
                self.condition(stands).await;
            }
            RadioOrder::Search(true) => self.search(adapter).await,
            RadioOrder::Search(false) => {
                if std::mem::take(&mut self.searching) {
                    // It ends with the radio, too.
                    let _ = self.answered(adapter.stop_scan()).await;
                }
            }
        }
    }

    /// Begins to search, if the radio is on: the library would switch it on unasked.
    async fn search(&mut self, adapter: &Platform) {
        let stands = self.powered(adapter).await;
        if stands != Adapter::On {
            return self.condition(stands).await;
        }
        self.searching = true;
        match timeout(self.pace().answer, adapter.start_scan(ScanFilter::default())).await {
            Ok(Err(error)) if condition(&error) == Adapter::PermissionRefused => {
                self.condition(Adapter::PermissionRefused).await;
            }
            // Another program searches already, which serves as well; and whatever else is seen at the next beat.
            _ => {}
        }
    }

    async fn hear(&mut self, adapter: &Platform, event: CentralEvent) {
        match event {
            CentralEvent::DeviceDisconnected(id) => {
                // With no link open nobody listens.
                let _ = self.hall.lost.send(id.to_string().as_str().into());
            }
            CentralEvent::StateUpdate(CentralState::PoweredOff) => self.condition(Adapter::SwitchedOff).await,
            CentralEvent::StateUpdate(CentralState::PoweredOn) => self.condition(Adapter::On).await,
            CentralEvent::DeviceDiscovered(id) | CentralEvent::RssiUpdate { id, .. } if self.searching => {
                self.found(adapter, &id).await;
            }
            _ => {}
        }
    }

    /// Tells of an instrument that was heard just now. One without a signal strength is only remembered by the system.
    async fn found(&self, adapter: &Platform, id: &PeripheralId) {
        let properties = async {
            let peripheral = adapter.peripheral(id).await?;
            peripheral.properties().await
        };
        let Ok(Some(about)) = self.answered(properties).await else { return };
        if about.rssi.is_none() {
            return;
        }
        let found = Found {
            id: id.to_string().as_str().into(),
            name: about.local_name.unwrap_or_default(),
            signal_dbm: about.rssi,
            offers: about.services.iter().map(|uuid| Uuid(uuid.as_u128())).collect(),
        };
        // What a full channel cannot hold is heard again in a moment.
        let _ = self.tell.try_send(RadioEvent::Found(found));
    }
}
