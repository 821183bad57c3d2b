package lodestep.app;

import java.nio.file.Path;
import java.util.Optional;
import lodestep.bench.Batch;
import lodestep.cli.HeadWork;
import lodestep.cli.Program;
import lodestep.cli.Refusal;
import lodestep.config.RigConfig;
import lodestep.ledger.Chain;
import lodestep.port.Bytes;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerException;
import org.tinylog.Logger;

/**
 * What a run leaves in the diagnostics: its begin, the head it found, what went wrong and was put
 * right, its end. A line for each thing that happens and none for what goes on, so that a rig at a
 * hundred lines a second fills no disk. Passes everything on. One thread.
 */
final class Diary {

  /** Goes to the file alone: a person has been told on the console already. */
  private static final String TOLD = "told";

  private Diary() {}

  /** A command that works with a rig begins. */
  static void begins(String command, RigConfig rig, Optional<Path> ledger) {
    Logger.info(
        "begin: {}, version {}, Java {}, {} {}, {} rig '{}', rig.toml sha256 {}, ledger {}",
        command,
        Main.version(),
        System.getProperty("java.vm.version", ""),
        System.getProperty("os.name", ""),
        System.getProperty("os.arch", ""),
        rig.kind().word(),
        rig.name(),
        rig.text().isEmpty() ? "none" : Chain.sha256(Bytes.ofUtf8(rig.text())).toString(),
        ledger.map(Path::toString).orElse("none"));
  }

  /** A command that works with a rig ends as it should. */
  static void ends(String how) {
    Logger.info("end: {}", how);
  }

  /** A refusal is a sentence; a fault of the program's own is kept with its trace. */
  static void note(Throwable thrown) {
    if (thrown instanceof Refusal || thrown instanceof LedgerException) {
      Logger.info("refused: {}", thrown.getMessage());
    } else {
      Logger.tag(TOLD).error(thrown, "the program found a fault in itself");
    }
  }

  private static void event(LedgerEvent event) {
    if (event instanceof LedgerEvent.HeadSeen head) {
      Logger.info(
          "head {}: protocol {}, firmware {}, boot {}, watchdog proven {}",
          head.serialNumber(),
          head.protocolVersion(),
          head.firmwareVersion(),
          head.bootId(),
          head.watchdogProven());
    } else if (event instanceof LedgerEvent.Tripped trip) {
      Logger.warn(
          "trip {}: {} ({}), magnet {}", trip.code(), trip.cause(), trip.detail(), trip.magnet());
    } else if (event instanceof LedgerEvent.TripReset reset) {
      Logger.info("trip {} is reset", reset.code());
    }
  }

  /** The same watcher, with a diary kept of the batch. */
  static Program.Watcher of(Program.Watcher watcher) {
    return new Program.Watcher() {
      @Override
      public void event(LedgerEvent event, double rigSeconds) {
        Diary.event(event);
        watcher.event(event, rigSeconds);
      }

      @Override
      public void verdict(Batch batch, int done, double rigSeconds) {
        watcher.verdict(batch, done, rigSeconds);
      }

      @Override
      public void trip(String sentence) {
        watcher.trip(sentence);
      }
    };
  }

  /** The same watcher, with a diary kept of the work by hand. */
  static HeadWork.HandWatcher of(HeadWork.HandWatcher watcher) {
    LineWatch line = new LineWatch();
    return new HeadWork.HandWatcher() {
      @Override
      public void event(LedgerEvent event, double seconds) {
        Diary.event(event);
        watcher.event(event, seconds);
      }

      @Override
      public void now(HeadWork.HandLive live) {
        line.look(live.silence());
        watcher.now(live);
      }

      @Override
      public void says(String sentence) {
        watcher.says(sentence);
      }
    };
  }

  /** The same watcher, with a diary kept of the line it reads. */
  static HeadWork.LiveWatcher of(HeadWork.LiveWatcher watcher) {
    LineWatch line = new LineWatch();
    return new HeadWork.LiveWatcher() {
      @Override
      public void live(HeadWork.Live live) {
        line.look(live.silence());
        watcher.live(live);
      }

      @Override
      public void says(String sentence) {
        watcher.says(sentence);
      }
    };
  }

  /** Notes a line's silence once, and its end. */
  private static final class LineWatch {
    private boolean silent;

    void look(Optional<String> silence) {
      if (silence.isPresent() && !silent) {
        Logger.warn("{}", silence.get());
      } else if (silence.isEmpty() && silent) {
        Logger.info("the head speaks again");
      }
      silent = silence.isPresent();
    }
  }
}
