package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lodestep.bench.Batch;
import lodestep.bench.SeriesJob;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.ledger.AcceptedMagnet;
import lodestep.ledger.MagnetHistory;
import lodestep.port.KeepingEvent.MagnetReread;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.TimeSpan;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Reads accepted magnets again and says whether they have moved. */
@Command(
    name = "reread",
    description = "Reads accepted magnets again, with no pulse, and says what has kept its level.",
    footer = {
      "",
      "You are guided as in a batch: nest empty for the zero, magnet in, lid closed,",
      "pedal. The difference is told at equal temperature, with its uncertainty",
      "(k = 2) and what time alone is expected to take. Lamp accept means kept;",
      "refuse means moved, or that it cannot be told. Exit code 0 if all have kept.",
      "With a head alone you put each into the nest yourself and press Enter.",
      "",
      "Examples: lodestep reread split-3 return.1",
      "          lodestep reread --noted",
      "          lodestep reread --batch 12 --later \"3 months\"    # on a virtual rig"
    })
final class RereadCommand extends Asked {

  private final Desk desk;

  @Parameters(arity = "0..*", paramLabel = "MAGNET", description = "its number or its name")
  private List<String> magnets = new ArrayList<>();

  @Option(names = "--batch", paramLabel = "NUMBER", description = "all that this batch accepted")
  private @Nullable Long batch;

  @Option(names = "--noted", description = "all that were noted and not read since")
  private boolean noted;

  @Option(
      names = "--later",
      paramLabel = "SPAN",
      description = "on a virtual rig, so long after the newest entry: \"10 days\", \"2 years\"")
  private @Nullable String later;

  @Option(names = "--rig", paramLabel = "RIG", description = RecordCommands.RIG)
  private @Nullable Path rigFile;

  @Option(names = "--ledger", paramLabel = "FILE", description = RecordCommands.LEDGER)
  private @Nullable Path ledger;

  @Option(
      names = "--seed",
      paramLabel = "NUMBER",
      defaultValue = "1",
      description = "of a virtual rig: another seed, another day")
  private long seed;

  @Option(names = "--json", description = "the result as JSON, everything else on stderr")
  private boolean json;

  RereadCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    RigConfig rig = desk.program().rig(Optional.ofNullable(rigFile));
    Path file = desk.ledger(ledger, rigFile);
    Optional<TimeSpan> span =
        Optional.ofNullable(later)
            .map(text -> KindOptions.said("--later", () -> TimeSpan.parse(text)));
    if (span.isPresent() && rig.kind() == RigKind.REAL) {
      throw new Refusal("--later: on a real rig time cannot be told to pass; leave it out");
    }
    KeepingWork.RereadRun run =
        new KeepingWork.RereadRun(rig, file, List.copyOf(numbers(file)), span, seed);
    PrintWriter told = json ? desk.err() : desk.out();
    if (rig.kind() == RigKind.VIRTUAL) {
      told.println("VIRTUAL: " + rig.name() + ", no hardware");
    }
    Cautions.showFor(rig, told);
    return rig.headAlone() ? byHand(run, told) : byTheRig(run, told);
  }

  private int byTheRig(KeepingWork.RereadRun run, PrintWriter told) {
    Report report = new Report(told);
    Program.Outcome outcome = desk.program().keeping().reread(run, report);
    Result result = new Result(outcome.rigSeconds(), names(outcome.batch()), report.found);
    result.print(desk, json);
    return outcome.tripped() && outcome.batch().open() > 0 ? Desk.TRIPPED : result.code();
  }

  private int byHand(KeepingWork.RereadRun run, PrintWriter told) {
    if (run.later().isPresent()) {
      throw new Refusal("--later: by hand time cannot be told to pass; leave it out");
    }
    Screen screen = new Screen(told, desk.program().terminal());
    Found found = new Found(new GuidedReport(screen, true));
    SeriesJob.Done done = desk.program().keeping().rereadByHand(run, found);
    found.report.ends(done.sentence());
    Map<Long, String> names = new LinkedHashMap<>();
    try (LedgerArchive archive = desk.program().archive(run.ledgerFile())) {
      for (long magnet : run.magnets()) {
        MagnetHistory.of(archive, magnet)
            .ifPresent(history -> names.put(magnet, history.identity().name()));
      }
    }
    Result result = new Result(found.seconds, names, found.found);
    result.print(desk, json);
    return result.code();
  }

  /** Hands on what is told, and keeps what was found. One thread. */
  private static final class Found implements HeadWork.HandWatcher {

    private final GuidedReport report;
    private final List<MagnetReread> found = new ArrayList<>();
    private double seconds;

    Found(GuidedReport report) {
      this.report = report;
    }

    @Override
    public void event(LedgerEvent event, double atSeconds) {
      seconds = atSeconds;
      if (event instanceof MagnetReread reread) {
        found.add(reread);
        report.says(reread.finding() + ": " + reread.why());
      }
      report.event(event, atSeconds);
    }

    @Override
    public void now(HeadWork.HandLive live) {
      report.now(live);
    }

    @Override
    public void says(String sentence) {
      report.says(sentence);
    }
  }

  /** Of several magnets of one name the newest. */
  private Set<Long> numbers(Path file) {
    if (magnets.isEmpty() && batch == null && !noted) {
      throw new Refusal("name a magnet, or say --batch NUMBER or --noted");
    }
    Set<Long> numbers = new LinkedHashSet<>();
    for (String magnet : magnets) {
      List<MagnetHistory> histories = RecordCommands.histories(desk, file, magnet);
      numbers.add(histories.get(histories.size() - 1).magnet());
    }
    try (LedgerArchive archive = desk.program().archive(file)) {
      for (AcceptedMagnet accepted : AcceptedMagnet.of(archive)) {
        boolean ofBatch = batch != null && accepted.identity().batch() == batch;
        if (ofBatch || (noted && accepted.noted().isPresent())) {
          numbers.add(accepted.magnet());
        }
      }
    }
    if (numbers.isEmpty()) {
      throw new Refusal(
          batch == null
              ? "no magnet is noted and not read since"
              : "the ledger has no accepted magnet of a batch " + batch);
    }
    return numbers;
  }

  private static Map<Long, String> names(Batch batch) {
    Map<Long, String> names = new LinkedHashMap<>();
    batch.entries().forEach(entry -> names.put(entry.magnet(), entry.name()));
    return names;
  }

  /**
   * What it came to.
   *
   * @param names of all that were to be read, by number
   */
  private record Result(double seconds, Map<Long, String> names, List<MagnetReread> found) {

    int code() {
      long kept = found.stream().filter(one -> one.finding().equals("kept")).count();
      return kept == names.size() ? Desk.DONE : Desk.NOT_ACCEPTED;
    }

    void print(Desk desk, boolean json) {
      if (json) {
        desk.print(document());
      } else {
        desk.out().println();
        desk.print(table().lines());
      }
    }

    private Table table() {
      List<List<String>> rows = new ArrayList<>();
      for (MagnetReread one : found) {
        rows.add(
            List.of(
                Long.toString(one.magnet()),
                names.getOrDefault(one.magnet(), ""),
                FluxDensity.ofMicroTesla(one.fieldMicroTesla()).inGauss(),
                signed(one.differenceNanoTesla()),
                "± " + gauss(2 * one.differenceUncertaintyNanoTesla()),
                signed(one.expectedNanoTesla()),
                new TimeSpan(one.sinceSeconds()).written(),
                one.finding()));
      }
      return new Table(
          List.of(
              Table.Column.ofNumbers("magnet"),
              Table.Column.ofWords("name"),
              Table.Column.ofNumbers("reads"),
              Table.Column.ofNumbers("stronger by"),
              Table.Column.ofNumbers("(k = 2)"),
              Table.Column.ofNumbers("by time alone"),
              Table.Column.ofNumbers("since"),
              Table.Column.ofWords("finding")),
          rows);
    }

    private ObjectNode document() {
      ObjectNode node = Json.object();
      node.put("rigSeconds", seconds);
      node.put("open", names.size() - found.size());
      ArrayNode magnets = node.putArray("magnets");
      for (MagnetReread one : found) {
        ObjectNode each = magnets.addObject();
        each.put("magnet", one.magnet());
        each.put("name", names.getOrDefault(one.magnet(), ""));
        each.put("fieldMicroTesla", one.fieldMicroTesla());
        each.put("differenceNanoTesla", one.differenceNanoTesla());
        each.put("differenceStandardUncertaintyNanoTesla", one.differenceUncertaintyNanoTesla());
        each.put("expectedNanoTesla", one.expectedNanoTesla());
        each.put("sinceSeconds", one.sinceSeconds());
        each.put("finding", one.finding());
        each.put("why", one.why());
      }
      return node;
    }

    private static String gauss(long nanoTesla) {
      return new FluxDensity(nanoTesla * 1e-9).inGauss();
    }

    private static String signed(long nanoTesla) {
      return (nanoTesla < 0 ? "-" : "+") + gauss(Math.abs(nanoTesla));
    }
  }

  /** Tells of each as it is found, and keeps what was found. One thread. */
  private static final class Report implements Program.Watcher {

    private final PrintWriter out;
    private final List<MagnetReread> found = new ArrayList<>();

    Report(PrintWriter out) {
      this.out = out;
    }

    @Override
    public void event(LedgerEvent event, double rigSeconds) {
      if (event instanceof MagnetReread reread) {
        found.add(reread);
      }
    }

    @Override
    public void verdict(Batch batch, int done, double rigSeconds) {
      // Told now and not with its event: now it is safe on disk.
      MagnetReread newest = found.get(found.size() - 1);
      String label =
          "  "
              + done
              + " of "
              + batch.entries().size()
              + "  "
              + names(batch).getOrDefault(newest.magnet(), "")
              + ", ";
      Wrapped.lines(label, newest.finding() + ": " + newest.why(), MagnetCommands.COLUMNS)
          .forEach(out::println);
      out.flush();
    }

    @Override
    public void trip(String sentence) {
      out.println("  " + sentence);
      out.flush();
    }
  }
}
