package lodestep.app;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import lodestep.cli.Program;
import lodestep.config.RigConfig;

/** A virtual rig with its page, in this process, at a free port. */
final class ServedRig {

  private ServedRig() {}

  static Served at(Path ledger, double speed) {
    return at(ledger, speed, 0);
  }

  /** At a speed of one, by this pace of the machine. */
  static Served at(Path ledger, Pace pace) {
    Wiring wiring = new Wiring(Outside.unattended());
    return Served.start(
        wiring,
        new Program.Serve(wiring.rig(Optional.empty()), ledger, 1, 0, false, 1),
        Outside.unattended(),
        pace);
  }

  /** This rig, in the place of the reference rig. */
  static Served at(Path ledger, double speed, RigConfig rig) {
    return Served.start(
        new Wiring(Outside.unattended()),
        new Program.Serve(rig, ledger, 1, 0, false, speed),
        Outside.unattended());
  }

  static Served at(Path ledger, double speed, int port) {
    Wiring wiring = new Wiring(Outside.unattended());
    return Served.start(
        wiring,
        new Program.Serve(wiring.rig(Optional.empty()), ledger, 1, port, false, speed),
        Outside.unattended());
  }

  /** A record with one set of two magnets, and a pickup built of it whose pole tops were read. */
  static void record(Path ledger, Path folder) throws IOException {
    Path plan = folder.resolve("dunlin.csv");
    Files.writeString(
        plan,
        """
        name,set,alloy,shape,size,nest,pole up,target,tolerance,count,lot
        dunlin-1,dunlin,alnico 5,rod,4.7 x 17.2 mm,,north,520 G,12 G,1,M-7
        dunlin-2,dunlin,alnico 5,rod,4.7 x 17.2 mm,,south,480 G,12 G,1,M-7
        """);
    done(ledger, "batch", plan.toString());
    done(ledger, "pickup", "build", "Dunlin 3", "--set", "dunlin", "--order", "Hollis 7");
    done(ledger, "pickup", "read", "Dunlin 3");
  }

  private static void done(Path ledger, String... command) {
    CommandRun.Ended ended = CommandRun.on(ledger, command);
    if (ended.code() != 0) {
      throw new IllegalStateException(String.join(" ", command) + ": " + ended);
    }
  }

  /** The address that pairs a device which may prepare work. */
  static String pairing(Served served) {
    return page(served) + "#pair=" + served.access().prepareCode();
  }

  static String page(Served served) {
    return "http://127.0.0.1:" + served.port() + "/";
  }
}
