package lodestep.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.paper.BuildNotes;
import lodestep.port.LedgerArchive;
import lodestep.quantity.FluxDensity;
import lodestep.voice.Levels;
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
    return note(desk, record, like).map(note -> here.or(PickupWords.of(note))).orElse(here);
  }

  /** The note of this past build; empty if none is named. */
  static Optional<BuildNotes.Note> note(Desk desk, RecordOf record, @Nullable String like) {
    return like == null
        ? Optional.empty()
        : Optional.of(
            GaugeCommands.understood(
                () -> PickupAsked.said(SIGN + "like", () -> notes(desk, record).like(like))));
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

  /**
   * A level of this magnet; where none is written the one of the past build's note, and else its
   * full charge. Of a note with several levels none is taken, and that is said.
   */
  FluxDensity level(Desk desk, VoicedPickup pickup, @Nullable String written) {
    String asked = written == null ? noted(desk) : written;
    return GaugeCommands.understood(() -> pickup.level(SIGN, asked));
  }

  /** The same with a level of its own for each string; those of the past build's note. */
  Levels levels(Desk desk, VoicedPickup pickup, @Nullable String written) {
    String asked =
        written != null
            ? written
            : note(desk, record, magnet.like())
                .filter(past -> past.event().levelsMicroTesla().size() == strings(pickup))
                .map(ChoiceOptions::levels)
                .orElseGet(() -> noted(desk));
    return GaugeCommands.understood(() -> pickup.levels(SIGN, asked));
  }

  private static int strings(VoicedPickup pickup) {
    return pickup.set().tuned().size();
  }

  private String noted(Desk desk) {
    Optional<BuildNotes.Note> note = note(desk, record, magnet.like());
    List<Long> levels =
        note.map(past -> past.event().levelsMicroTesla()).orElse(List.of()).stream()
            .map(Math::abs)
            .distinct()
            .toList();
    if (levels.size() == 1) {
      return ChoiceOptions.gauss(levels.get(0));
    }
    if (!levels.isEmpty()) {
      desk.err()
          .println(
              "Mind: the past build has several levels, and this is told of full charge; say one"
                  + " of them by --level.");
      desk.err().flush();
    }
    return "";
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
