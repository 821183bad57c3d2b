package lodestep.cli;

import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lodestep.bench.Plan;
import lodestep.config.RigConfig;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** The command that breaks virtual rigs and watches what the host makes of it. */
@Command(
    name = "soak",
    description = {
      "Breaks virtual rigs at random and watches every safety rule each millisecond.",
      "Parts fail, persons are careless, the program is killed, the power cut. One",
      "seed is one run, always the same. Nothing real is driven, whatever rig is",
      "named; its figures alone are used."
    },
    footer = {
      "",
      "A run that breaks a rule is made short and saved, for --replay to play again.",
      "Exit codes: 0 no rule broken, 1 a rule broken, 70 the soak cannot be trusted.",
      "",
      "Examples: lodestep soak --for 10min",
      "          lodestep soak --seeds 1..400 --rig-kind jig --json",
      "          lodestep soak --replay soak-failures/coil-seed-189-INV-17.json"
    })
final class SoakCommand extends Asked {

  private static final Pattern SEEDS = Pattern.compile("(\\d{1,15})(?:\\.\\.(\\d{1,15})?)?");
  private static final String USUAL_TIME = "1min";
  private static final int THREADS_MAX = 64;

  private final Desk desk;

  @Option(
      names = "--seeds",
      paramLabel = "FROM..TO",
      description = "these seeds; FROM.. goes on from a seed, for as long as --for says")
  @Nullable
  private String seeds;

  @Option(
      names = "--for",
      paramLabel = "TIME",
      description = "no further seed is begun after this: 90s, 10min, 2h; 1min if nothing is said")
  @Nullable
  private String time;

  @Option(
      names = "--threads",
      paramLabel = "NUMBER",
      defaultValue = "2",
      description = "runs at a time; 2 if left out")
  private int threads;

  @Option(
      names = "--rig-kind",
      paramLabel = "KIND",
      description = "coil, switched, jig or coil-and-jig; each seed draws one if left out")
  @Nullable
  private String kind;

  @Option(
      names = "--rig",
      paramLabel = "RIG",
      description = "rig.toml whose figures the virtual rigs have, all of its kind")
  @Nullable
  private Path rigFile;

  @Option(
      names = "--plan",
      paramLabel = "PLAN",
      description = "magnets to work, each run takes two; a box of its own if left out")
  @Nullable
  private Path planFile;

  @Option(
      names = "--save",
      paramLabel = "FOLDER",
      defaultValue = "soak-failures",
      description = "where runs that broke a rule are saved; soak-failures if left out")
  private Path folder = Path.of("soak-failures");

  @Option(names = "--replay", paramLabel = "FILE", description = "plays one saved run again")
  @Nullable
  private Path replay;

  @Option(names = "--json", description = "the figures as JSON, everything else on stderr")
  private boolean json;

  SoakCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    if (rigFile != null && kind != null) {
      throw new Refusal("--rig-kind: the rig named with --rig has its own kind; name one of them");
    }
    return replay != null ? replayed(replay) : soaked();
  }

  private Optional<RigConfig> named() {
    if (rigFile == null) {
      return Optional.empty();
    }
    RigConfig rig = desk.program().rig(Optional.of(rigFile));
    if (rig.headAlone()) {
      throw new Refusal(
          "the rig '"
              + rig.name()
              + "' is a head alone and drives nothing that could go wrong; name another with"
              + " --rig, or none");
    }
    return Optional.of(rig);
  }

  private List<SoakWork.SoakPlayed> rigs() {
    Optional<RigConfig> rig = named();
    if (rig.isPresent()) {
      return List.of(played(kindOf(rig.get()), rig.get()));
    }
    if (kind != null && !SoakWork.RIG_KINDS.contains(kind)) {
      throw new Refusal(
          "--rig-kind: '" + kind + "' is none of " + String.join(", ", SoakWork.RIG_KINDS));
    }
    List<String> kinds = kind == null ? SoakWork.RIG_KINDS : List.of(kind);
    return kinds.stream().map(each -> played(each, desk.program().soakRig(each))).toList();
  }

  private static String kindOf(RigConfig rig) {
    if (rig.jig().isPresent()) {
      return rig.hasBank() ? "coil-and-jig" : "jig";
    }
    return rig.hasBank() ? "coil" : "switched";
  }

  private SoakWork.SoakPlayed played(String of, RigConfig rig) {
    Plan plan =
        Desk.understood(
            planFile == null
                ? desk.program().suppliedPlan("soak-" + of + ".csv", rig)
                : desk.program().plan(planFile, rig));
    return new SoakWork.SoakPlayed(rig, plan);
  }

  private Integer soaked() {
    if (threads < 1 || threads > THREADS_MAX) {
      throw new Refusal("--threads: " + threads + " is not 1 to " + THREADS_MAX);
    }
    List<SoakWork.SoakPlayed> rigs = rigs();
    Span span = Span.of(seeds);
    boolean endless = time == null && span.last().isEmpty();
    Optional<Double> seconds =
        Optional.ofNullable(endless ? USUAL_TIME : time).map(TimeText::seconds);
    SoakProgress progress = new SoakProgress(new Screen(desk.err(), desk.program().terminal()));
    SoakWork.SoakFigures figures =
        desk.program()
            .soak(
                new SoakWork.SoakOrder(rigs, span.first(), span.last(), seconds, threads, folder),
                progress);
    progress.end();
    if (json) {
      desk.print(Json.ofSoak(figures));
    } else {
      desk.print(SoakTable.lines(figures));
    }
    if (!figures.problems().isEmpty()) {
      figures.problems().forEach(problem -> desk.err().println("lodestep: " + problem));
      desk.err().println("lodestep: the soak cannot be trusted; please report these lines");
      desk.err().flush();
      return Desk.OWN_FAULT;
    }
    return figures.failed().isEmpty() ? Desk.DONE : Desk.NOT_ACCEPTED;
  }

  private Integer replayed(Path file) {
    SoakWork.SoakReplay replayed = desk.program().replay(named(), file);
    if (json) {
      desk.print(Json.ofReplay(replayed));
    } else {
      desk.print(SoakTable.lines(replayed.saved()));
      desk.print(
          List.of(
              "This time: "
                  + replayed
                      .again()
                      .orElse("no rule was broken; it is mended, or the rig is another one")));
    }
    return replayed.again().isPresent() ? Desk.NOT_ACCEPTED : Desk.DONE;
  }

  /** The seeds that were asked for. */
  private record Span(long first, OptionalLong last) {

    static Span of(@Nullable String text) {
      if (text == null) {
        return new Span(1, OptionalLong.empty());
      }
      Matcher matcher = SEEDS.matcher(text.strip());
      if (!matcher.matches()) {
        throw refused(text);
      }
      long first = Long.parseLong(matcher.group(1));
      if (!text.contains("..")) {
        return new Span(first, OptionalLong.of(first));
      }
      if (matcher.group(2) == null) {
        return new Span(first, OptionalLong.empty());
      }
      long last = Long.parseLong(matcher.group(2));
      if (last < first) {
        throw refused(text);
      }
      return new Span(first, OptionalLong.of(last));
    }

    private static Refusal refused(String text) {
      return new Refusal(
          String.format(
              Locale.ROOT, "--seeds: '%s' are no seeds; write them like 1..400 or 401..", text));
    }
  }
}
