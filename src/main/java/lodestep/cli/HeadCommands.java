package lodestep.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Function;
import lodestep.bench.HandJob;
import lodestep.bench.Plan;
import lodestep.bench.PlanRow;
import lodestep.bench.TypedReading;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.dial.Verdict;
import lodestep.quantity.FluxDensity;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Commands that need a head and nothing driven. */
final class HeadCommands {

  private static final String SEED = "of a virtual rig: another seed, another stock";

  private HeadCommands() {}

  @Command(
      name = "read",
      description = "Shows what the head reads now; nothing is driven and nothing recorded.",
      footer = {
        "",
        "On a terminal type a letter and Enter: h hold or let go, r reset smallest and",
        "largest, z zero (only with the seat empty), q end.",
        "",
        "With --tone the pitch rises by two octaves from the furthest reading to the",
        "band; inside it two tones sound together, and below it two low ones in turn.",
        "While a reading is held nothing is heard.",
        "",
        "Examples: lodestep read --nest \"rod nest\" --zero",
        "          lodestep read --zero --tone --target \"430 G\" --tolerance \"15 G\"",
        "          lodestep read --unit millitesla --for 5s --json"
      })
  static final class Read extends Asked {

    private final Desk desk;

    @Option(
        names = "--rig",
        paramLabel = "RIG",
        description = "rig.toml; the virtual rig if left out")
    @Nullable
    private Path rigFile;

    @Option(
        names = "--ledger",
        paramLabel = "FILE",
        description = "by whose calibration it is read; the rig's usual one if left out")
    @Nullable
    private Path ledger;

    @Option(names = "--nest", paramLabel = "NEST", description = "the rig's first if left out")
    @Nullable
    private String nest;

    @Option(
        names = "--unit",
        paramLabel = "UNIT",
        defaultValue = "gauss",
        description = "gauss (if left out) or millitesla")
    private String unit = "";

    @Option(names = "--zero", description = "takes a zero first; the seat must be empty")
    private boolean zero;

    @Option(
        names = "--tone",
        description = "lets the reading be heard against a band; needs --target and --tolerance")
    private boolean tone;

    @Option(names = "--target", paramLabel = "LEVEL", description = "the band's middle: \"430 G\"")
    @Nullable
    private String target;

    @Option(
        names = "--tolerance",
        paramLabel = "LEVEL",
        description = "half width of the band: \"15 G\"")
    @Nullable
    private String tolerance;

    @Option(names = "--for", paramLabel = "TIME", description = "ends by itself: 5s, 2min")
    @Nullable
    private String time;

    @Option(names = "--seed", paramLabel = "NUMBER", defaultValue = "1", description = SEED)
    private long seed;

    @Option(names = "--json", description = "a JSON object a line, everything else on stderr")
    private boolean json;

    Read(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      RigConfig rig = desk.program().rig(Optional.ofNullable(rigFile));
      NestConfig where = nestOf(rig, Optional.ofNullable(nest));
      Path record = desk.ledger(ledger, rigFile);
      String by = desk.program().gauge().calibratedBy(rig, record);
      LiveWords words = LiveWords.in(unit, rig.gauge().range());
      Optional<Double> seconds = Optional.ofNullable(time).map(TimeText::seconds);
      SoundBand band = band();
      PrintWriter told = json ? desk.err() : desk.out();
      boolean terminal = desk.program().terminal() && !json;
      Screen sayings = new Screen(told, terminal);
      Screen readings = json ? new Screen(desk.out(), false) : sayings;
      try (Sounding sounding =
          tone ? Sounding.open(desk.program(), sayings) : Sounding.none(sayings)) {
        begin(told, rig);
        Cautions.showShort(told);
        Function<HeadWork.Live, String> line =
            json ? live -> Json.ofLive(rig, where, live).toString() : words::line;
        LiveReport report = new LiveReport(readings, sayings, line, opening(where, by, terminal));
        HeadWork.LiveWatcher watcher = tone ? new LiveTone(report, sounding, band) : report;
        desk.program().read(new HeadWork.ReadRun(rig, where, seconds, zero, seed, record), watcher);
        report.end();
      }
      return Desk.DONE;
    }

    private static List<String> opening(NestConfig where, String by, boolean terminal) {
      String reading =
          "Reading in the "
              + where.name()
              + ", "
              + where.standOff().written()
              + " from the face; calibration: "
              + by
              + ".";
      return terminal
          ? List.of(
              reading, "Type a letter and Enter: h hold, r reset, z zero (seat empty), q end.")
          : List.of(reading);
    }

    /** What is heard; of no use without a tone. */
    private SoundBand band() {
      if (!tone && target == null && tolerance == null) {
        return new SoundBand(0, 0);
      }
      if (!tone || target == null || tolerance == null) {
        throw new Refusal(
            "--tone, --target and --tolerance go together: the tone says how the reading lies to"
                + " the band");
      }
      FluxDensity level = level("--target", target);
      FluxDensity half = level("--tolerance", tolerance);
      if (half.tesla() <= 0) {
        throw new Refusal("--tolerance: the band needs a width above zero");
      }
      return SoundBand.of(level, half);
    }

    private static FluxDensity level(String option, String text) {
      try {
        return FluxDensity.parse(text);
      } catch (IllegalArgumentException wrong) {
        throw new Refusal(option + ": " + wrong.getMessage());
      }
    }
  }

  @Command(
      name = "hand",
      description = {
        "Guides charging and knocking down one magnet by hand; nothing is driven.",
        "The program says what to do, the gauge when to stop; settled readings decide."
      },
      footer = {
        "",
        "Type Enter when a thing is done, n when there is nothing stronger to charge",
        "with, q to end, or another gauge's reading with its name:",
        "380 G south by shelf gauge.",
        "",
        "With --tone the pitch rises, by two octaves at most, until it is time to stop;",
        "then two low tones sound in turn until the opposing magnet is away. At rest",
        "inside the band two high tones sound together.",
        "",
        "Examples:",
        "  lodestep hand --alloy \"alnico 2\" --size \"5.1 x 18 mm\" --pole-up south \\",
        "    --target \"430 G\" --tolerance \"15 G\" --tone",
        "  lodestep hand --alloy \"alnico 3\" --size \"0.193 x 0.65 in\" \\",
        "    --target demagnetise --typed \"310 G by shelf gauge\""
      })
  static final class ByHand extends Asked {

    private final Desk desk;

    @Mixin private OneMagnet magnet = new OneMagnet();

    @Option(
        names = "--rig",
        paramLabel = "RIG",
        description = "rig.toml, of which only the head is used; the virtual rig if left out")
    @Nullable
    private Path rigFile;

    @Option(names = "--ledger", paramLabel = "FILE", description = "the ledger's file")
    @Nullable
    private Path ledger;

    @Option(
        names = "--tone",
        description =
            "a tone that rises as you come near; where there is no sound device the terminal's"
                + " bell quickens instead")
    private boolean tone;

    @Option(
        names = "--typed",
        paramLabel = "READING",
        description = "another gauge's reading, on record as typed: \"380 G by shelf gauge\"")
    @Nullable
    private String typed;

    @Option(
        names = "--typed-by",
        paramLabel = "GAUGE",
        defaultValue = "",
        description = "the other gauge's name, when a typed reading names none")
    private String gauge = "";

    @Option(names = "--seed", paramLabel = "NUMBER", defaultValue = "1", description = SEED)
    private long seed;

    @Option(names = "--json", description = "the result as JSON, everything else on stderr")
    private boolean json;

    ByHand(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      Program program = desk.program();
      RigConfig rig = program.rig(Optional.ofNullable(rigFile));
      Path ledgerFile = ledger == null ? program.usualLedger(rig) : ledger;
      Plan plan =
          program
              .planText("by hand", magnet.planText(program, ledgerFile), rig, ledgerFile)
              .match(
                  good -> good,
                  refused -> {
                    throw OneMagnet.refusal(refused);
                  });
      PlanRow row = plan.rows().get(0);
      if (row.keep().isAsked()) {
        throw new Refusal(
            "--read-after, --survives: by hand no field is known and nothing waits; leave them out,"
                + " or dial it on a rig that drives");
      }
      magnet.remark(program, ledgerFile).ifPresent(desk::remark);
      boolean terminal = program.terminal() && !json;
      HeadWork.HandRun run =
          new HeadWork.HandRun(
              rig,
              row,
              ledgerFile,
              Optional.ofNullable(typed).map(this::typed).stream().toList(),
              gauge,
              seed);
      return code(guided(run, terminal));
    }

    private TypedReading typed(String text) {
      try {
        return TypedReading.read(text, gauge);
      } catch (IllegalArgumentException wrong) {
        throw new Refusal("--typed: " + wrong.getMessage());
      }
    }

    private HeadWork.HandOutcome guided(HeadWork.HandRun run, boolean terminal) {
      Screen screen = new Screen(json ? desk.err() : desk.out(), terminal);
      try (Sounding sounding =
          tone ? Sounding.open(desk.program(), screen) : Sounding.none(screen)) {
        return guided(run, screen, sounding);
      }
    }

    private HeadWork.HandOutcome guided(HeadWork.HandRun run, Screen screen, Sounding sounding) {
      PrintWriter told = json ? desk.err() : desk.out();
      begin(told, run.rig());
      Cautions.show(told);
      Cautions.showByHand(told);
      run.row().told().ifPresent(by -> told.println(WorkCommands.told(run.row())));
      String band =
          "target " + run.row().task().targetWords() + " ± " + run.row().task().toleranceWords();
      told.println(run.row().nameOf(1) + ": " + band);
      HandSound heard = new HandSound(run.row().task());
      HandReport report = new HandReport(screen, band, heard, sounding);
      HeadWork.HandOutcome outcome = desk.program().byHand(run, report);
      report.end();
      if (json) {
        desk.print(Json.ofHand(run, outcome));
      } else {
        outcome
            .hand()
            .last()
            .flatMap(read -> WorkCommands.toldReading(run.row(), outcome.hand().name(), read))
            .ifPresent(words -> desk.print(List.of("", words)));
        desk.print(List.of("", summary(outcome)));
      }
      return outcome;
    }

    private static String summary(HeadWork.HandOutcome outcome) {
      return String.format(
          Locale.ROOT,
          "%s, magnet %d: %s after %d acts by hand; see: lodestep history %d",
          outcome.hand().name(),
          outcome.hand().magnet(),
          HandJob.Done.word(outcome.verdict()),
          outcome.hand().acts(),
          outcome.hand().magnet());
    }

    private static int code(HeadWork.HandOutcome outcome) {
      return outcome.verdict() == Verdict.ACCEPTED ? Desk.DONE : Desk.NOT_ACCEPTED;
    }
  }

  private static void begin(PrintWriter told, RigConfig rig) {
    if (rig.kind() == RigKind.VIRTUAL) {
      told.println("VIRTUAL: " + rig.name() + ", no hardware");
      told.flush();
    }
  }

  private static NestConfig nestOf(RigConfig rig, Optional<String> name) {
    try {
      return name.map(rig::nest).orElseGet(() -> rig.nests().get(0));
    } catch (IllegalArgumentException unknown) {
      throw new Refusal("--nest: " + unknown.getMessage());
    }
  }
}
