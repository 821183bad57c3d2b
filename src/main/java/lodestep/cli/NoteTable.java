package lodestep.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import lodestep.paper.BuildNotes;
import lodestep.port.StockEvent.BuildNoted;
import lodestep.quantity.FluxDensity;

/** Build notes as people read them. */
final class NoteTable {

  private NoteTable() {}

  /** The past builds that come nearest to what is being chosen. */
  static List<String> nearest(List<BuildNotes.Note> notes) {
    if (notes.isEmpty()) {
      return List.of();
    }
    List<String> lines = new ArrayList<>(List.of("", "Past builds that come nearest:"));
    lines.addAll(of(notes));
    return lines;
  }

  /** Each with all that was said. */
  static List<String> of(List<BuildNotes.Note> notes) {
    List<String> lines = new ArrayList<>();
    for (BuildNotes.Note note : notes) {
      lines.addAll(Wrapped.lines(note.event().day() + "  ", words(note), MagnetCommands.COLUMNS));
    }
    return lines;
  }

  private static String words(BuildNotes.Note note) {
    BuildNoted event = note.event();
    StringBuilder words = new StringBuilder(event.name());
    words.append(event.position().isEmpty() ? "" : ", " + event.position());
    words.append(": " + event.alloy() + " " + event.shape() + " " + event.size());
    words.append(", " + levels(event));
    words.append(
        event.toleranceMicroTesla() > 0
            ? " ± " + FluxDensity.ofMicroTesla(event.toleranceMicroTesla()).inGauss()
            : "");
    words.append(
        event.inductanceMicroHenries() > 0
            ? MagnetCommands.said("; coil %.2f H", event.inductanceMicroHenries() * 1e-6)
            : "");
    words.append(event.set().isEmpty() ? "" : "; set " + event.set());
    words.append(event.pickup() > 0 ? "; pickup " + event.pickup() : "");
    words.append(event.certificate() > 0 ? "; certificate " + event.certificate() : "");
    words.append(event.liked().isEmpty() ? "" : "; liked by " + event.liked());
    words.append(event.said().isEmpty() ? "" : "; " + event.said());
    return words.append("; entry " + note.number() + ".").toString();
  }

  private static String levels(BuildNoted event) {
    return event.levelsMicroTesla().stream()
        .map(level -> FluxDensity.ofMicroTesla(level).inGauss())
        .collect(Collectors.joining("; "));
  }
}
