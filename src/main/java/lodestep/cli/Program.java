package lodestep.cli;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import lodestep.bench.Batch;
import lodestep.bench.Plan;
import lodestep.bench.PlanReading;
import lodestep.config.RigConfig;
import lodestep.dial.PlannerMode;
import lodestep.ledger.MagnetNames;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.Plot;

/** What the commands need of the program behind them. Every refusal is a {@link Refusal}. */
public interface Program extends HeadWork, SoakWork {

  /** What the commands on the gauge need. */
  GaugeWork gauge();

  /** What the commands on magnets after their verdict need. */
  KeepingWork keeping();

  /** What the commands that keep a ledger need. */
  KeepWork keep();

  /** What the commands on exports need. */
  ExportWork exports();

  /** What the commands on things with names need. */
  PaperWork papers();

  /** The rig of this file, or the virtual reference rig when none is named. */
  RigConfig rig(Optional<Path> rigFile);

  /**
   * Reads a plan file for this rig, in which targets may be told by a gauge of its usual ledger.
   */
  default PlanReading plan(Path planFile, RigConfig rig) {
    return plan(planFile, rig, usualLedger(rig));
  }

  /** Reads a plan, in which targets may be told by a hand gauge known to this ledger. */
  PlanReading plan(Path planFile, RigConfig rig, Path ledgerFile);

  /**
   * Reads a plan to whose positions magnets are put that have been dialed, whatever the gauge can
   * tell now; targets may be told by a hand gauge known to this ledger.
   */
  PlanReading setsPlan(Path planFile, RigConfig rig, Path ledgerFile);

  /** Reads one of the plans that come with the program. */
  PlanReading suppliedPlan(String name, RigConfig rig);

  /**
   * Reads a plan from its text, in which targets may be told by a hand gauge known to this ledger.
   */
  PlanReading planText(String name, String text, RigConfig rig, Path ledgerFile);

  /**
   * Reads a plan that is on record: it was good when its batch began, whatever the gauge can tell
   * now.
   */
  PlanReading recordedPlan(String name, String text, RigConfig rig, Path ledgerFile);

  /** Opens a ledger for reading only; other programs may write it meanwhile. */
  LedgerArchive archive(Path ledgerFile);

  /** Whether there is a file at the ledger's place. */
  boolean isLedger(Path ledgerFile);

  /** The magnets on record in this ledger; none when there is no such file yet. */
  MagnetNames namesOnRecord(Path ledgerFile);

  /** The ledger used when none is named, for this rig. */
  Path usualLedger(RigConfig rig);

  /** Runs a batch to its end, telling the watcher of each verdict. */
  Outcome run(Run run, Watcher watcher);

  /**
   * Runs a rig and serves its page until the program is ended.
   *
   * @param say is told where the page is, and how a device is paired
   */
  void serve(Serve serve, Consumer<String> say);

  /**
   * Draws curves into a file, as SVG or PNG by its name's end; an older file of this name is
   * replaced.
   */
  void draw(Plot plot, Path file);

  /** Writes a text file in UTF-8, whole or not at all; an older file of this name is replaced. */
  void write(String text, Path file);

  /** Keeps what a command was refused for, or a fault of the program with its trace, for later. */
  void note(Throwable thrown);

  /** The version in words. */
  String version();

  /**
   * Measures the program on this machine; takes about a minute.
   *
   * @param progress is told what is being measured
   */
  List<Figure> figures(Consumer<String> progress);

  /**
   * Measures the control loop in real time on this machine, against a virtual rig in a process of
   * its own on a serial line; takes about two minutes.
   *
   * @param progress is told what is being measured
   */
  List<Figure> realTimeFigures(Consumer<String> progress);

  /**
   * Measures the ledger on this machine as it grows by tens from ten thousand invented events.
   *
   * @param largest how many events at most, at least ten thousand
   * @param progress is told what is being measured
   */
  List<Figure> recordFigures(long largest, Consumer<String> progress);

  /** One measured figure, in words for a person. */
  record Figure(String what, String value, String how) {}

  /**
   * A batch to run.
   *
   * @param seed of the virtual rig
   * @param ledgerFile where every event goes
   * @param continued whether the newest batch left open in the ledger goes on; the plan is its own
   */
  record Run(
      RigConfig rig,
      Optional<Plan> plan,
      Path ledgerFile,
      boolean continued,
      PlannerMode mode,
      long seed) {}

  /**
   * A rig to run with its page.
   *
   * @param seed of a virtual rig
   * @param port of the page; 0 takes a free one
   * @param listen whether the network may open it, and not this computer alone
   * @param speed virtual seconds in a second, of a virtual rig
   */
  record Serve(RigConfig rig, Path ledgerFile, long seed, int port, boolean listen, double speed) {}

  /**
   * How a run ended.
   *
   * @param rigSeconds virtual time it took
   * @param wallSeconds time it took here
   */
  record Outcome(
      Batch batch, boolean tripped, boolean stopped, double rigSeconds, double wallSeconds) {}

  /** Is told what happens, in its order, by the thread that called {@link #run}. */
  interface Watcher {

    /** The record was handed this event. */
    void event(LedgerEvent event, double rigSeconds);

    /** The batch changed: a verdict was given. */
    void verdict(Batch batch, int done, double rigSeconds);

    /** The rig tripped; one sentence. */
    void trip(String sentence);

    /** Something is wrong that is no trip, and a person must look; one sentence. */
    default void waits(String sentence) {
      trip(sentence);
    }
  }
}
