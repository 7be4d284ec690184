//! A message bus of a test's own.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};

pub(crate) struct Bus {
    daemon: Child,
    pub(crate) address: String,
}

impl Bus {
    /// Starts a bus in this folder. Where `denied`, it lets nobody speak to the service.
    pub(crate) fn start(folder: &Path, denied: bool) -> Self {
        let address = format!("unix:path={}/bus", folder.display());
        let rules = folder.join("bus.conf");
        std::fs::write(&rules, configuration(&address, denied)).expect("a file");
        let mut daemon = Command::new("dbus-daemon")
            .arg(format!("--config-file={}", rules.display()))
            .args(["--nofork", "--nopidfile", "--print-address=1"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("dbus-daemon is installed; `cargo run -p tasks -- setup` brings it");
        // It says its address when it can be spoken to.
        let mut said = String::new();
        BufReader::new(daemon.stdout.take().expect("its output")).read_line(&mut said).expect("an address");
        assert!(said.contains("unix:"), "{said:?}");
        Self { daemon, address }
    }

    /// Ends at once, with everything that is connected to it.
    pub(crate) fn stop(&mut self) {
        // It may have ended by itself.
        let _ = self.daemon.kill();
        let _ = self.daemon.wait();
    }
}

impl Drop for Bus {
    fn drop(&mut self) {
        self.stop();
    }
}

fn configuration(address: &str, denied: bool) -> String {
    let deny = if denied { r#"<deny send_destination="org.bluez"/>"# } else { "" };
    format!(
        r#"<!DOCTYPE busconfig PUBLIC "-//freedesktop//DTD D-Bus Bus Configuration 1.0//EN"
 "http://www.freedesktop.org/standards/dbus/1.0/busconfig.dtd">
<busconfig>
  <type>system</type>
  <listen>{address}</listen>
  <auth>EXTERNAL</auth>
  <policy context="default">
    <allow user="*"/>
    <allow own="*"/>
    <allow send_type="method_call"/>
    <allow send_type="signal"/>
    <allow send_requested_reply="true" send_type="method_return"/>
    <allow send_requested_reply="true" send_type="error"/>
    <allow receive_type="method_call"/>
    <allow receive_type="method_return"/>
    <allow receive_type="error"/>
    <allow receive_type="signal"/>
    {deny}
  </policy>
</busconfig>"#
    )
}
