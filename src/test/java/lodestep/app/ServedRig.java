package lodestep.app;

import java.nio.file.Path;
import java.util.Optional;
import lodestep.cli.Program;

/** A virtual rig with its page, in this process, at a free port. */
final class ServedRig {

  private ServedRig() {}

  static Served at(Path ledger, double speed) {
    return at(ledger, speed, 0);
  }

  static Served at(Path ledger, double speed, int port) {
    Wiring wiring = new Wiring(Outside.unattended());
    return Served.start(
        wiring,
        new Program.Serve(wiring.rig(Optional.empty()), ledger, 1, port, false, speed),
        Outside.unattended());
  }

  /** The address that pairs a device which may prepare work. */
  static String pairing(Served served) {
    return page(served) + "#pair=" + served.access().prepareCode();
  }

  static String page(Served served) {
    return "http://127.0.0.1:" + served.port() + "/";
  }
}
