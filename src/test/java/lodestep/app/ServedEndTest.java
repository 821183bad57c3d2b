package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import lodestep.adapter.serial.Polling;
import lodestep.adapter.sqlite.SqliteArchive;
import lodestep.ledger.EventCodec;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent.ProgramStopped;
import lodestep.port.LedgerEvent.Tripped;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: a rig that is ended while it rests was stopped by nobody, and begins anew at rest. */
class ServedEndTest {

  @Test
  void endsAtRestWithNoTripOnRecord(@TempDir Path folder) {
    Path ledger = folder.resolve("rest.ledger");

    for (int run = 0; run < 2; run++) {
      try (Served served = ServedRig.at(ledger, 50)) {
        awaitRest(served.bench());
        assertThat(served.bench().snapshot().trip()).as("run %d", run).isEmpty();
      }
    }

    assertThat(count(ledger, Tripped.class)).isZero();
    assertThat(count(ledger, ProgramStopped.class)).isEqualTo(2);
  }

  private static void awaitRest(RealBench bench) {
    Polling.until("the rig to rest", () -> bench.snapshot().job().rests());
  }

  private static int count(Path ledger, Class<?> kind) {
    List<Object> found = new ArrayList<>();
    try (LedgerArchive archive = SqliteArchive.open(ledger)) {
      archive.forEach(
          1,
          Long.MAX_VALUE,
          stored -> {
            if (kind.isInstance(EventCodec.decode(stored).event())) {
              found.add(stored);
            }
          });
    }
    return found.size();
  }
}
