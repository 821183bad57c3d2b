package lodestep.cli;

import java.util.ArrayList;
import java.util.List;
import lodestep.paper.BuildNotes;
import lodestep.port.LedgerArchive;
import lodestep.quantity.FluxDensity;
import lodestep.voice.PickupAsked;
import lodestep.voice.PickupWords;
import lodestep.voice.Said;
import lodestep.voice.VoicedPickup;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** A pickup as it is described on a command line: magnet, poles, strings, coil. */
final class DescribedPickup extends SaidOptions {

  private static final String SIGN = "--";

  @Mixin private MagnetOptions magnet = new MagnetOptions();
  @Mixin private StringOptions strings = new StringOptions();
  @Mixin private CoilOptions coil = new CoilOptions();
  @Mixin private RecordOf record = new RecordOf();

  @Option(
      names = "--stand-off",
      paramLabel = "DISTANCE",
      description = "from the pole face to the gauge; that of the rig's nest if left out")
  void standOff(@Nullable String words) {
    say(Said.STAND_OFF, words);
  }

  RecordOf record() {
    return record;
  }

  PickupAsked asked(Desk desk) {
    return asked(desk, record);
  }

  static PickupAsked asked(Desk desk, RecordOf record) {
    return new PickupAsked(record.rig(desk), SIGN);
  }

  /** What was said here, and else what the notes of the past build say. */
  PickupWords words(Desk desk) {
    PickupWords here = super.words().or(magnet.words()).or(strings.words()).or(coil.words());
    return like(desk, record, magnet.like(), here);
  }

  /** What was said, and else what the notes of this past build say. */
  static PickupWords like(Desk desk, RecordOf record, @Nullable String like, PickupWords here) {
    if (like == null) {
      return here;
    }
    return GaugeCommands.understood(
        () ->
            here.or(
                PickupAsked.said(
                    SIGN + "like", () -> PickupWords.of(notes(desk, record).like(like)))));
  }

  static BuildNotes notes(Desk desk, RecordOf record) {
    if (!desk.program().isLedger(record.ledger(desk))) {
      return new BuildNotes(List.of());
    }
    try (LedgerArchive archive = desk.program().archive(record.ledger(desk))) {
      return BuildNotes.of(archive);
    }
  }

  VoicedPickup pickup(Desk desk) {
    return GaugeCommands.understood(() -> asked(desk).pickup(words(desk)));
  }

  /** A level of this magnet; its full charge where none is written. */
  static FluxDensity level(VoicedPickup pickup, @Nullable String written) {
    return GaugeCommands.understood(() -> pickup.level(SIGN, written == null ? "" : written));
  }

  /** The past builds that come nearest to such a magnet of this level; none without a record. */
  List<String> past(Desk desk, VoicedPickup pickup, FluxDensity level) {
    List<BuildNotes.Note> nearest = notes(desk, record).nearest(pickup.like(level));
    List<String> lines = new ArrayList<>();
    if (!nearest.isEmpty()) {
      lines.addAll(List.of("", "Past builds that come nearest:"));
      lines.addAll(VoiceCommands.lines(nearest));
    }
    return lines;
  }
}
