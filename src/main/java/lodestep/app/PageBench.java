package lodestep.app;

import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ThreadLocalRandom;
import java.util.function.Supplier;
import lodestep.bench.BatchJob;
import lodestep.bench.Guided;
import lodestep.bench.LedgerStart;
import lodestep.bench.TimeLeft;
import lodestep.bench.WearOnRecord;
import lodestep.cli.Cautions;
import lodestep.cli.Refusal;
import lodestep.config.RigConfig;
import lodestep.config.RigFile;
import lodestep.device.BankLeft;
import lodestep.dial.Zero;
import lodestep.interlock.Condition;
import lodestep.interlock.InterlockSaying;
import lodestep.interlock.Permissive;
import lodestep.ledger.ContactLife;
import lodestep.ledger.MagnetHistory;
import lodestep.panel.Bench;
import lodestep.panel.Enforcers;
import lodestep.panel.HandAct;
import lodestep.panel.Look;
import lodestep.panel.PlanForm;
import lodestep.port.Command;
import lodestep.port.Contacts;
import lodestep.port.InputLine;
import lodestep.port.Job;
import lodestep.port.OutputLine;
import lodestep.scan.Cycle;
import lodestep.scan.CycleTimes;
import lodestep.scan.Snapshot;

/** The running rig as the page sees it. Any thread. */
final class PageBench implements Bench {

  /**
   * What it stands on.
   *
   * @param hands at a virtual rig
   * @param times how punctual the loop is by this computer's clock
   * @param speed seconds of the rig's own time in a second; 1 of a real one
   */
  record Parts(
      RigConfig rig,
      Path ledgerFile,
      Cycle scan,
      LiveGauge gauge,
      Optional<VirtualHands> hands,
      LedgerStart.Program program,
      PageWork work,
      Supplier<CycleTimes> times,
      double speed) {

    /**
     * Begins guided work in the rig's own loop.
     *
     * @param laid what lies beside a virtual rig for it; not asked for on a real one
     * @param sentence what is said when it begins
     */
    Answer begin(Guided job, Supplier<VirtualHands.Laid> laid, String sentence) {
      try {
        Optional<VirtualHands.Laid> beside = hands.map(at -> laid.get());
        if (!scan.begin(job)) {
          return Answer.no("other work is under way; end it first");
        }
        beside.ifPresent(brought -> hands.orElseThrow().bring(brought));
        return Answer.yes(sentence);
      } catch (Refusal refused) {
        return Answer.no(String.valueOf(refused.getMessage()));
      }
    }
  }

  private static final Answer NOTHING_DRIVEN =
      Answer.no("this rig is a head alone and drives nothing: charge and knock down by hand");

  private final Parts parts;
  private final PageRecord record;
  private final String run = HexFormat.of().toHexDigits(ThreadLocalRandom.current().nextLong());
  private final Object beginning = new Object();
  private volatile Optional<String> leftOpen;
  private volatile TimeLeft.Known known = TimeLeft.Known.NOTHING;

  /**
   * @param leftOpen the name of the batch that the last run left open
   */
  PageBench(Parts parts, Optional<String> leftOpen) {
    this.parts = parts;
    this.record = new PageRecord(parts.ledgerFile());
    this.leftOpen = leftOpen;
  }

  @Override
  public Look look() {
    Snapshot snapshot = parts.scan().snapshot();
    Optional<Double> zero = zero(snapshot.job()).map(taken -> taken.gauge().counts());
    return new Look(
        run,
        snapshot.view(),
        snapshot.driven(),
        snapshot.job(),
        says(snapshot),
        unmet(snapshot),
        parts.gauge().look(zero),
        parts.gauge().says(),
        parts.gauge().zeroed(),
        seated(snapshot),
        snapshot.failure().map(String::valueOf));
  }

  /** At a head alone no contact tells; what is drawn there is known all the same. */
  private boolean seated(Snapshot snapshot) {
    return parts.rig().headAlone()
        ? parts.hands().map(VirtualHands::seated).orElse(false)
        : snapshot.view().contacts().closed(InputLine.WORK_SEAT);
  }

  /** The one that the work under way goes by. */
  private static Optional<Zero> zero(Job job) {
    if (job instanceof Guided guided) {
      return guided.zero();
    }
    return job instanceof BatchJob batch ? batch.batch().zero() : Optional.empty();
  }

  /** Where nothing is driven no interlock judges. */
  private List<Saying> says(Snapshot snapshot) {
    return parts.rig().headAlone()
        ? List.of()
        : snapshot.interlocks().says().stream().map(PageBench::saying).toList();
  }

  private static Saying saying(InterlockSaying says) {
    return new Saying(says.cause(), says.present(), says.latched(), Enforcers.of(says.cause()));
  }

  private List<String> unmet(Snapshot snapshot) {
    if (parts.rig().headAlone()) {
      return List.of();
    }
    OutputLine first = parts.rig().hasBank() ? OutputLine.BANK_HOLD : OutputLine.COIL_ON;
    OutputLine line = parts.rig().coils().isEmpty() ? OutputLine.JIG_ENABLE : first;
    return Permissive.unmet(snapshot.interlocks().row(), line).stream()
        // What stands only while something is done is no reason why nothing is.
        .filter(condition -> condition != Condition.PERMIT_HELD)
        .map(Condition::words)
        .toList();
  }

  @Override
  public void stop() {
    parts.scan().askStop();
  }

  @Override
  public Answer tell(Command command) {
    if (parts.scan().snapshot().job().rests()) {
      return Answer.no("nothing is under way");
    }
    return parts.scan().offer(command)
        ? Answer.yes("handed to the rig")
        : Answer.no("the rig has not taken up what was asked before; ask again");
  }

  @Override
  public Answer begin(PlanForm form) {
    if (parts.rig().headAlone()) {
      return NOTHING_DRIVEN;
    }
    synchronized (beginning) {
      if (!parts.scan().snapshot().job().rests()) {
        return Answer.no("other work is under way; end it first");
      }
      try {
        return begun(parts.work().batch(form));
      } catch (Refusal refused) {
        return Answer.no(String.valueOf(refused.getMessage()));
      }
    }
  }

  @Override
  public Answer goOn() {
    if (parts.rig().headAlone()) {
      return NOTHING_DRIVEN;
    }
    synchronized (beginning) {
      if (leftOpen.isEmpty()) {
        return Answer.no("no batch was left open");
      }
      try {
        return begun(parts.work().leftOpen());
      } catch (Refusal refused) {
        return Answer.no(String.valueOf(refused.getMessage()));
      }
    }
  }

  private Answer begun(PageWork.Work work) {
    Job job =
        BatchJob.begin(
            work.batch(), LedgerStart.later(parts.program()).prologue(), Optional.empty());
    known = work.times();
    if (!parts.scan().begin(job)) {
      return Answer.no("the rig has not taken up what was asked before; ask again");
    }
    parts.hands().ifPresent(hands -> hands.stock(work.pieces()));
    leftOpen = Optional.empty();
    return Answer.yes("the batch begins");
  }

  @Override
  public TimeLeft.Known known() {
    return known;
  }

  @Override
  public double speed() {
    return parts.speed();
  }

  @Override
  public Optional<String> leftOpen() {
    boolean free = parts.scan().snapshot().job().rests() && !parts.rig().headAlone();
    return free ? leftOpen : Optional.empty();
  }

  @Override
  public Answer hand(HandAct act) {
    if (parts.hands().isEmpty()) {
      return Answer.no("this rig is real: its lid, key and pedal are at the bench");
    }
    Contacts contacts = parts.scan().snapshot().view().contacts();
    boolean shut = contacts.closed(InputLine.LID_A) || contacts.closed(InputLine.LID_B);
    boolean seated = seated(parts.scan().snapshot());
    if (shut && (act == HandAct.PUT_IN || act == HandAct.TAKE_OUT || act == HandAct.AS_ASKED)) {
      return Answer.no("open the lid first");
    }
    if (act == HandAct.PUT_IN && seated) {
      return Answer.no("take out what is in the nest first");
    }
    return parts.hands().get().offer(act) ? Answer.yes("done") : Answer.no("one at a time");
  }

  @Override
  public Answer gauge(GaugeAct act) {
    Snapshot snapshot = parts.scan().snapshot();
    boolean ours = snapshot.job().rests();
    if (act == GaugeAct.ZERO && !ours) {
      return Answer.no("the work under way takes its own zero");
    }
    return parts.gauge().act(act, !seated(snapshot), snapshot.nowNs());
  }

  @Override
  public PlanCheck check(PlanForm form) {
    return parts.work().check(form);
  }

  @Override
  public List<PlanForm> recent() {
    return record.read(PageRecord::recent).orElse(List.of());
  }

  @Override
  public List<String> alloys() {
    return parts.work().alloys();
  }

  @Override
  public List<Found> find(String words) {
    return record.read(archive -> PageRecord.find(archive, words)).orElse(List.of());
  }

  @Override
  public Optional<MagnetHistory> history(long magnet) {
    return record.read(archive -> MagnetHistory.of(archive, magnet)).flatMap(found -> found);
  }

  @Override
  public RigConfig rig() {
    return parts.rig();
  }

  @Override
  public String rigWords() {
    return RigFile.show(parts.rig());
  }

  @Override
  public List<Fact> facts() {
    List<Fact> facts = new ArrayList<>();
    Snapshot snapshot = parts.scan().snapshot();
    facts.add(new Fact("program", "lodestep " + parts.program().version()));
    facts.add(new Fact("ledger", parts.ledgerFile().toString()));
    facts.add(
        new Fact(
            "record",
            snapshot
                .view()
                .ledger()
                .fault()
                .orElse("written through to entry " + snapshot.view().ledger().durableTo())));
    facts.add(new Fact("gauge", parts.program().calibrationSource()));
    facts.add(new Fact("link", snapshot.view().link().words()));
    if (parts.rig().hasBank()) {
      facts.add(
          new Fact(
              "bank proof",
              snapshot.interlocks().row().met(Condition.BANK_PROVEN)
                  ? "fill contact, switch and bleed are proven"
                  : "not proven yet; it is done before the next pulse"));
    }
    facts.add(new Fact("scans", punctual().sentence(parts.hands().isPresent())));
    Instant wall = snapshot.view().wall();
    record.read(archive -> PageFacts.of(archive, wall)).ifPresent(facts::addAll);
    return facts;
  }

  @Override
  public Optional<ContactLife> contacts() {
    return parts.rig().coils().isEmpty()
        ? Optional.empty()
        : record.read(archive -> ContactLife.of(archive, parts.rig().relays()));
  }

  @Override
  public Optional<BankLeft> bankLeft() {
    return parts.rig().hasBank()
        ? record.read(archive -> WearOnRecord.bank(archive, parts.rig().bank()))
        : Optional.empty();
  }

  @Override
  public Punctual punctual() {
    CycleTimes times = parts.times().get();
    return new Punctual(times.scans(), times.overruns(), times.worstLateNs() * 1e-9);
  }

  @Override
  public List<String> cautions() {
    return Cautions.of(parts.rig()).lines().toList();
  }
}
