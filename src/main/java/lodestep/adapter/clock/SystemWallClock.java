package lodestep.adapter.clock;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import lodestep.port.WallClock;

/** The machine's wall clock; a label only, it may jump. Any thread. */
public final class SystemWallClock implements WallClock {

  private static final Path SET = Path.of("/run/systemd/timesync/synchronized");

  @Override
  public Instant now() {
    return Instant.now();
  }

  /**
   * Whether the machine says that its clock has been set from outside. Only systemd's own time
   * service says so in this place, by a file (systemd-timesyncd.service(8)); with another service,
   * or none, the answer is no.
   */
  public boolean synchronised() {
    return Files.exists(SET);
  }
}
