package lodestep.app;

import static lodestep.app.OnRecord.assertAccepted;
import static lodestep.app.OnRecord.trips;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.FileInputStream;
import java.io.FileOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicLong;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.TripCause;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.HostLine;
import lodestep.protocol.RequestWriter;
import lodestep.sim.FaultPlan;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: another program that reads from the head's port or writes to it in the middle of a batch is
 * told by name, moves and fires nothing, and the batch goes on when it has gone. Method: the whole
 * host over a board's pretended lines and a pseudo-terminal, the rig in a process of its own.
 */
class SharedPortTest {

  private static final long SEED = 23;
  private static final long MS = 1_000_000L;
  private static final long LIMIT_NS = 120_000 * MS;
  private static final Outputs ENERGY =
      Outputs.high(OutputLine.BANK_FILL, OutputLine.BANK_HOLD, OutputLine.COIL_FIRE);

  private final Path port;

  SharedPortTest(@TempDir Path folder) {
    this.port = folder.resolve("head");
  }

  private HostOnBoard host() throws IOException {
    HostOnBoard host =
        HostOnBoard.onALine(
            HostOnBoard.oneRod(),
            SEED,
            HostOnBoard.at(port, HostOnBoard.RIG),
            FaultPlan.NONE,
            link -> link);
    return host.eachScan(nowNs -> giveUpInTime(host, nowNs));
  }

  private static void giveUpInTime(HostOnBoard host, long nowNs) {
    if (nowNs > LIMIT_NS) {
      host.bench.askStop();
    }
  }

  /** A second program that speaks the protocol without a fault, and asks only to let go. */
  @Test
  void tripsWhenAnotherProgramSpeaksToTheHeadAndGoesOnWhenItHasGone() throws IOException {
    byte[] foreign = RequestWriter.line(new HostLine(31_007, new HeadRequest.Heartbeat(9, false)));
    AtomicLong written = new AtomicLong();
    try (HostOnBoard host = host()) {
      host.remote().sharePort(() -> 0, written::get);
      host.eachScan(
          nowNs -> {
            giveUpInTime(host, nowNs);
            if (nowNs >= 14_000 * MS && written.get() == 0) {
              writeToPort(foreign);
              written.set(foreign.length);
            }
            if (host.bench.snapshot().trip().isPresent()) {
              assertThat(host.board.standing().only(ENERGY)).isEqualTo(Outputs.ALL_LOW);
            }
          });

      host.bench.run();

      assertThat(trips(host)).containsExactly(TripCause.PORT_SHARED);
      assertAccepted(host);
    }
  }

  private void writeToPort(byte[] bytes) {
    try (OutputStream to = new FileOutputStream(port.toFile())) {
      to.write(bytes);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Another program at the host's port, which takes a few bytes whenever it comes first. */
  private static final class Thief implements AutoCloseable {
    private final AtomicLong taken = new AtomicLong();
    private final AtomicBoolean ended = new AtomicBoolean();
    private final InputStream port;

    Thief(Path port) {
      try {
        this.port = new FileInputStream(port.toFile());
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
      Thread thread = new Thread(this::steal, "thief");
      thread.setDaemon(true);
      thread.start();
    }

    private void steal() {
      byte[] few = new byte[7];
      try (InputStream from = port) {
        int got = from.read(few);
        while (got > 0 && taken.addAndGet(got) > 0 && !ended.get()) {
          got = from.read(few);
        }
      } catch (IOException gone) {
        // The line has been taken away, and there is nothing more to steal.
      }
    }

    /** It takes a few bytes more at most. */
    @Override
    public void close() {
      ended.set(true);
    }
  }

  @Test
  void tripsWhenAnotherProgramReadsFromThePortAndGoesOnWhenItHasGone() throws IOException {
    try (HostOnBoard host = host()) {
      List<Thief> thieves = new ArrayList<>();
      AtomicLong badLines = new AtomicLong();
      host.eachScan(
          nowNs -> {
            giveUpInTime(host, nowNs);
            if (nowNs >= 14_000 * MS && thieves.isEmpty()) {
              Thief thief = new Thief(port);
              thieves.add(thief);
              host.remote().sharePort(thief.taken::get, () -> 0);
            }
            if (host.bench.snapshot().trip().isPresent()) {
              thieves.forEach(Thief::close);
              badLines.set(host.remote().head().state(nowNs).badLines());
              assertThat(host.board.standing().only(ENERGY)).isEqualTo(Outputs.ALL_LOW);
            }
          });

      host.bench.run();

      assertThat(thieves).hasSize(1);
      assertThat(thieves.get(0).taken.get()).isPositive();
      // Silent, if it happened to come first at every byte.
      assertThat(trips(host).get(0)).isIn(TripCause.HEAD_LINE_BAD, TripCause.HEAD_SILENT);
      assertThat(badLines.get()).isPositive();
      assertAccepted(host);
    }
  }
}
