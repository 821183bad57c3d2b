package lodestep.cli;

import static lodestep.cli.GaugeCommands.flux;
import static lodestep.cli.GaugeCommands.understood;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;
import lodestep.bench.GuidedStudy;
import lodestep.bench.ReadingSheet;
import lodestep.bench.SeriesJob;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.ledger.StudyRecord;
import lodestep.quantity.FluxDensity;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Studies of the gauge: from a file of readings, or guided. */
@Command(
    name = "study",
    description = "Tells what scatter is the gauge's own: guided, or from a file of readings.",
    footer = {
      "",
      "Guided: the rig asks for each seating and reads it; nothing is driven, every",
      "reading goes on record, and a study that was ended (q) goes on: --continue.",
      "Placement: each magnet is taken out and put back, five times or more. Crossed:",
      "every person seats every magnet equally often, twice or more, in an order that",
      "is drawn; readings are shown at the end alone, so that they lead nobody. A",
      "magnet that shows its other face than at first is asked for again.",
      "",
      "From a file: the heading is magnet,reading (placement, in the order of the",
      "rows) or magnet,person,reading (crossed). A reading has its unit with it",
      "(431.2 G), or the heading has it (reading G).",
      "",
      "Six standard deviations are held against the whole tolerance: below 10 %% is",
      "good, up to 30 %% of limited use, above that not fit.",
      "",
      "Examples:",
      "  lodestep gauge study --guided placement --times 10 --tolerance \"12 G\"",
      "  lodestep gauge study --guided crossed --magnets low,middle,high \\",
      "    --persons first,second --times 3 --tolerance \"12 G\"",
      "  lodestep gauge study readings.csv --tolerance \"12 G\""
    })
final class StudyCommand extends Asked {

  private static final int TIMES_PLACED = 10;
  private static final int TIMES_CROSSED = 3;

  private final Desk desk;

  @Parameters(arity = "0..1", paramLabel = "FILE", description = "a CSV file, a row a reading")
  private @Nullable Path file;

  @Option(names = "--guided", paramLabel = "STUDY", description = "placement or crossed")
  private @Nullable String guided;

  @Option(
      names = "--times",
      paramLabel = "NUMBER",
      description = "seatings of each magnet by each person; 10, crossed 3, if left out")
  private @Nullable Long times;

  @Option(
      names = "--magnets",
      paramLabel = "NAMES",
      split = ",",
      description = "what you call them, with commas between; charged, of different levels")
  private @Nullable List<String> magnets;

  @Option(
      names = "--persons",
      paramLabel = "NAMES",
      split = ",",
      description = "who takes part in a crossed study, with commas between")
  private @Nullable List<String> persons;

  @Option(names = "--nest", paramLabel = "NEST", description = "the rig's first if left out")
  private @Nullable String nestName;

  @Option(names = "--continue", description = "goes on with the newest study left open")
  private boolean goesOn;

  @Option(
      names = "--entry",
      paramLabel = "NUMBER",
      description = "shows a study on record, by the ledger's entry that began it")
  private @Nullable Long entry;

  @Option(
      names = "--tolerance",
      paramLabel = "TOLERANCE",
      description = "half width of the band the gauge is to tell, \"12 G\"")
  private @Nullable String tolerance;

  @Option(
      names = "--seed",
      paramLabel = "NUMBER",
      defaultValue = "1",
      description = "of a virtual rig: another seed, another seating")
  private long seed;

  @Option(names = "--ledger", paramLabel = "FILE", description = "the ledger's file")
  private @Nullable Path ledger;

  @Option(
      names = "--rig",
      paramLabel = "RIG",
      description = "rig.toml; the virtual rig if left out")
  private @Nullable Path rigFile;

  @Option(names = "--json", description = "as JSON, in tesla; everything else on stderr")
  private boolean json;

  StudyCommand(Desk desk) {
    this.desk = desk;
  }

  private StudyReport ofFile(Path sheet, double half) {
    String text = desk.program().gauge().textOf(sheet);
    try {
      ReadingSheet.Study study = understood(() -> ReadingSheet.study(text));
      return StudyReport.of(study.crossed(), study.readings(), half);
    } catch (Refusal wrong) {
      throw new Refusal(sheet + ": " + wrong.getMessage());
    }
  }

  @Override
  public Integer call() {
    Optional<FluxDensity> half = Optional.ofNullable(tolerance).map(StudyCommand::width);
    long ways =
        Stream.of(file != null, guided != null, goesOn, entry != null).filter(way -> way).count();
    if (ways != 1) {
      throw new Refusal("name one of these: a FILE of readings, --guided, --continue or --entry");
    }
    if (file != null) {
      return told(ofFile(file, half.map(FluxDensity::tesla).orElse(0.0)));
    }
    Path record = desk.ledger(ledger, rigFile);
    if (entry != null) {
      long number = entry;
      return shown(
          desk.program()
              .gauge()
              .studies(record)
              .numbered(number)
              .orElseThrow(
                  () -> new Refusal("--entry: no study of the gauge began with entry " + number)),
          half);
    }
    return ranGuided(record, half);
  }

  private static FluxDensity width(String text) {
    FluxDensity half = flux("--tolerance", text);
    if (!(half.tesla() > 0)) {
      throw new Refusal("--tolerance: a tolerance must be above zero");
    }
    return half;
  }

  private int ranGuided(Path record, Optional<FluxDensity> half) {
    RigConfig rig = desk.program().rig(Optional.ofNullable(rigFile));
    GaugeWork.StudyRun run = goesOn ? goingOn(rig, record, half) : fresh(rig, record, half);
    PrintWriter told = json ? desk.err() : desk.out();
    if (rig.kind() == RigKind.VIRTUAL) {
      told.println("VIRTUAL: " + rig.name() + ", no hardware");
    }
    Cautions.showFor(rig, told);
    Screen screen = new Screen(told, desk.program().terminal());
    GuidedReport report = new GuidedReport(screen, !run.study().crossed());
    SeriesJob.Done done = desk.program().gauge().study(run, report);
    report.ends(done.sentence());
    if (!done.series().complete()) {
      if (done.series().number() > 0) {
        desk.err().println("Go on with: lodestep gauge study --continue");
        desk.err().flush();
      }
      return Desk.NOT_ACCEPTED;
    }
    return shown(
        desk.program().gauge().studies(record).numbered(done.series().number()).orElseThrow(),
        half);
  }

  private GaugeWork.StudyRun fresh(RigConfig rig, Path record, Optional<FluxDensity> half) {
    NestConfig nest = GaugeRigCommands.nest(rig, nestName);
    String method = String.valueOf(guided).strip().toLowerCase(Locale.ROOT);
    boolean crossed = method.equals("crossed");
    int usual = crossed ? TIMES_CROSSED : TIMES_PLACED;
    int often =
        times == null ? usual : (int) Math.max(0, Math.min(GuidedStudy.READINGS_MAX + 1, times));
    List<String> named =
        magnets == null && !crossed ? List.of("the magnet") : magnets == null ? List.of() : magnets;
    List<String> who = persons == null ? List.of() : persons;
    if (!crossed && !who.isEmpty()) {
      throw new Refusal("--persons: only a crossed study tells persons apart");
    }
    GuidedStudy study = understood(() -> GuidedStudy.of(method, named, who, often));
    return new GaugeWork.StudyRun(rig, nest, study, Optional.empty(), half, record, seed);
  }

  private GaugeWork.StudyRun goingOn(RigConfig rig, Path record, Optional<FluxDensity> half) {
    StudyRecord.Study open =
        desk.program()
            .gauge()
            .studies(record)
            .open()
            .orElseThrow(
                () -> new Refusal("--continue: no study of the gauge was left open on record"));
    NestConfig nest = GaugeRigCommands.nest(rig, open.begun().nest());
    if (nest.standOff().microMetres() != open.begun().standOffMicroMetres()) {
      throw new Refusal(
          "--continue: the "
              + nest.name()
              + " has another stand-off now than when the study began; begin a new one");
    }
    return new GaugeWork.StudyRun(
        rig, nest, GuidedStudy.of(open), Optional.of(open), half, record, seed);
  }

  private int shown(StudyRecord.Study study, Optional<FluxDensity> half) {
    double band =
        half.map(FluxDensity::tesla)
            .orElse(FluxDensity.ofMicroTesla(study.begun().toleranceMicroTesla()).tesla());
    if (study.readings().size() < study.asked()) {
      throw new Refusal(
          "the study of entry "
              + study.number()
              + " has "
              + study.readings().size()
              + " of "
              + study.asked()
              + " readings; go on with: lodestep gauge study --continue");
    }
    StudyReport report =
        StudyReport.of(
            study.begun().method().equals("crossed"), GuidedStudy.measured(study.readings()), band);
    report.json().put("entry", study.number());
    report.json().put("nest", study.begun().nest());
    List<String> words = new ArrayList<>();
    words.add("");
    words.addAll(report.words());
    words.add(
        "On record in the "
            + study.begun().nest()
            + "; see it again: lodestep gauge study --entry "
            + study.number());
    return told(new StudyReport(words, report.json(), report.fraction()));
  }

  private int told(StudyReport report) {
    if (json) {
      desk.print(report.json());
    } else {
      desk.print(report.words());
    }
    return report.fit() ? Desk.DONE : Desk.NOT_ACCEPTED;
  }
}
