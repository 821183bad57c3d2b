package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.adapter.sqlite.SqliteArchive;
import lodestep.app.remote.LiveRig;
import lodestep.app.remote.RigOrder;
import lodestep.config.RigConfig;
import lodestep.ledger.EventCodec;
import lodestep.ledger.Proof;
import lodestep.magnet.Shape;
import lodestep.port.LedgerEvent;
import lodestep.quantity.Length;
import lodestep.sim.StockPiece;

/**
 * The program on a real rig's description and the bench that stands behind it, each in a process of
 * its own and in real time, with the head behind socat.
 *
 * @param folder for plan, rig file and ledger
 * @param port of the head
 */
record RealTimeBench(Path folder, Path port, List<HostProcess> hosts) implements AutoCloseable {

  private static final String PLAN =
      """
      name,alloy,shape,size,nest,pole up,target,tolerance
      wire,alnico 5,rod,4.9 x 16.5 mm,rod nest,north,640 G,40 G
      """;

  static RealTimeBench in(Path folder, Path lineFolder) {
    return new RealTimeBench(folder, lineFolder.resolve("head"), new ArrayList<>());
  }

  Path ledger() {
    return folder.resolve("bench.ledger");
  }

  Path plan() throws IOException {
    return Files.writeString(folder.resolve("plan.csv"), PLAN);
  }

  private Path rigFile() throws IOException {
    Path repository = Path.of(System.getProperty("lodestep.repository", ""));
    String example = Files.readString(repository.resolve("firmware-host/board/rig-real-coil.toml"));
    assertThat(example).contains("/dev/lodestep-head", "kind = \"real\"");
    return Files.writeString(
        folder.resolve("rig.toml"), example.replace("/dev/lodestep-head", port.toString()));
  }

  /** Plant, head and operator; to be closed. */
  LiveRig rig(long seed) throws IOException {
    RigConfig rig =
        RigSource.read(Optional.of(rigFile()))
            .match(
                good -> good,
                problems -> {
                  throw new AssertionError(problems);
                });
    Shape rod = new Shape.Rod(Length.ofMm(4.9), Length.ofMm(16.5));
    StockPiece piece = new StockPiece("alnico 5", rod, true, false, 3, 4, "rod nest", List.of());
    return LiveRig.start(new RigOrder(rig, "rod nest", seed, seed + 1, List.of(piece)));
  }

  /** The program with these arguments at this rig, its ledger named. */
  HostProcess host(LiveRig rig, String freezeAt, String... arguments) throws IOException {
    List<String> all = new ArrayList<>(List.of(arguments));
    all.addAll(List.of("--rig", rigFile().toString(), "--ledger", ledger().toString()));
    HostProcess host = new HostProcess(rig, freezeAt, all);
    hosts.add(host);
    return host;
  }

  /** The record, which is whole. */
  List<LedgerEvent> events() {
    List<LedgerEvent> events = new ArrayList<>();
    try (SqliteArchive archive = SqliteArchive.open(ledger())) {
      assertThat(Proof.of(archive, List.of())).isInstanceOf(Proof.Result.Whole.class);
      archive.forEach(
          1, archive.newest().number(), stored -> events.add(EventCodec.decode(stored).event()));
    }
    return events;
  }

  /** Ends what a failed test has left. */
  @Override
  public void close() {
    hosts.forEach(HostProcess::kill);
  }
}
