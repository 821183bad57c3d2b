package lodestep.app;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;
import lodestep.ledger.EventCodec;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.MagnetNames;
import lodestep.panel.Bench;
import lodestep.panel.PlanForm;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.quantity.FluxDensity;

/** What the page reads of the record: by a connection of its own, beside the one that writes. */
record PageRecord(Path ledgerFile) {

  /** As many as a person looks through; a longer name finds the rest. */
  private static final int FOUND_MAX = 40;

  private static final int RECENT_MAX = 8;

  /** Reads the record; empty while there is none yet. Its errors pass on. */
  <T> Optional<T> read(Function<LedgerArchive, T> reading) {
    if (!Files.exists(ledgerFile)) {
      return Optional.empty();
    }
    try (LedgerArchive archive = LedgerFiles.open(ledgerFile)) {
      return Optional.of(reading.apply(archive));
    }
  }

  /** The newest plans that can be begun by touch, each wording once; then samples of lots. */
  static List<PlanForm> recent(LedgerArchive archive) {
    Map<String, LedgerEvent.BatchStarted> byText = new LinkedHashMap<>();
    archive.forEachOfKind(
        EventCodec.kind(LedgerEvent.BatchStarted.class),
        stored -> {
          LedgerEvent.BatchStarted batch =
              (LedgerEvent.BatchStarted) EventCodec.decode(stored).event();
          byText.remove(batch.planText());
          byText.put(batch.planText(), batch);
        });
    List<LedgerEvent.BatchStarted> newest = new ArrayList<>(byText.values());
    Collections.reverse(newest);
    List<PlanForm> forms =
        newest.stream()
            .flatMap(batch -> PlanForm.of(batch.name(), batch.planText()).stream())
            // A file's plan that was begun again by touch has other letters and is the same.
            .distinct()
            .toList();
    // Samples of lots are told apart and take no plan's place.
    Stream<PlanForm> plans = forms.stream().filter(form -> !form.isSample()).limit(RECENT_MAX);
    Stream<PlanForm> samples = forms.stream().filter(PlanForm::isSample).limit(RECENT_MAX);
    return Stream.concat(plans, samples).toList();
  }

  /** Magnets whose name has these words, the newest first. */
  static List<Bench.Found> find(LedgerArchive archive, String words) {
    String wanted = words.strip().toLowerCase(Locale.ROOT);
    List<MagnetNames.Named> named = new ArrayList<>(MagnetNames.of(archive).magnets());
    Collections.reverse(named);
    return named.stream()
        .filter(
            each ->
                each.name().toLowerCase(Locale.ROOT).contains(wanted)
                    || wanted.replace("#", "").equals(Long.toString(each.magnet())))
        .limit(FOUND_MAX)
        .flatMap(each -> MagnetHistory.of(archive, each.magnet()).stream())
        .map(PageRecord::found)
        .toList();
  }

  private static Bench.Found found(MagnetHistory history) {
    List<LedgerEvent.ReadingTaken> readings = history.readings();
    double tesla =
        readings.isEmpty()
            ? Double.NaN
            : FluxDensity.ofMicroTesla(readings.get(readings.size() - 1).fieldMicroTesla()).tesla();
    LedgerEvent.MagnetNamed identity = history.identity();
    return new Bench.Found(
        history.magnet(),
        identity.name(),
        identity.set(),
        identity.alloy() + ", " + identity.shape(),
        history.standingVerdict().map(LedgerEvent.VerdictGiven::verdict).orElse(""),
        tesla);
  }
}
