package lodestep.interlock;

import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import lodestep.config.Limits;
import lodestep.port.Contacts;
import lodestep.port.InputLine;
import lodestep.port.LedgerState;
import lodestep.port.LinkState;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.ElectricCurrent;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Voltage;

/**
 * The real interlocks on a rig drawn with a few strokes, for exploring all that they can come to. A
 * scan takes 50 ms, which is the shortest of the design's limits but that of the read-back; the
 * bank knows three levels; relays are drawn or not. The long limits are shortened to a few scans,
 * since only their order matters. What the parts do otherwise than they should is chosen anew in
 * every scan.
 */
final class ExploredRig implements Explorer.Machine<ExploredPlace> {

  /** The interlocks, or what stands in for them. */
  interface Interlocks {
    InterlockStep step(InterlockState state, InterlockInputs in);
  }

  /** What wants something of each scan, after the interlocks have judged it. */
  interface Work {
    ExploredJob wants(InterlockInputs in, InterlockStep judged);
  }

  static final long MS = 1_000_000L;

  /** The bank's highest level while nothing is wrong. */
  static final int FULL_BANK = 2;

  /** By then a pulse or the bleed contact must show in the bank, in milliseconds. */
  static final long FALL_MS = 100;

  private static final int[] MILLI_VOLTS = {0, 6_000, 47_000};

  /** The design's limits, the long ones shortened. */
  static Limits limits(long heldMs) {
    return new Limits(
        5 * MS,
        20 * MS,
        150 * MS,
        50 * MS,
        150 * MS,
        50 * MS,
        50 * MS,
        100 * MS,
        10 * MS,
        heldMs * MS,
        FALL_MS * MS,
        600_000 * MS,
        150 * MS,
        60 * MS,
        200 * MS,
        400 * MS,
        200 * MS,
        new Voltage(10.0),
        new Voltage(51.0),
        new ElectricCurrent(0.05),
        0.02,
        new FluxDensity(1e-4));
  }

  private final ExploredKind kind;
  private final long scanNs;
  private final Limits limits;
  private final HeadFrame.Build build;
  private final Interlocks interlocks;
  private final List<Deviation> deviations;
  private final List<ExploredJob> jobs;
  private final ExploredRules rules;

  /** A rig with the real interlocks. */
  ExploredRig(
      ExploredKind kind,
      long scanMs,
      long heldMs,
      List<Deviation> deviations,
      List<ExploredJob> jobs) {
    this(kind, scanMs, heldMs, deviations, jobs, logic(kind, heldMs)::step);
  }

  /** The real interlocks with these limits. */
  static InterlockLogic logic(ExploredKind kind, long heldMs) {
    return new InterlockLogic(kind.settings(limits(heldMs)));
  }

  /**
   * A rig on which these may be other than they should, alone and together, in any scan.
   *
   * @param scanMs time from scan to scan, in milliseconds
   * @param heldMs longest hold without a pulse
   */
  ExploredRig(
      ExploredKind kind,
      long scanMs,
      long heldMs,
      List<Deviation> deviations,
      List<ExploredJob> jobs,
      Interlocks interlocks) {
    this.kind = kind;
    this.build = HeadBuild.of(kind.settings(limits(heldMs))).wanted();
    this.scanNs = scanMs * MS;
    this.limits = limits(heldMs);
    this.interlocks = interlocks;
    this.deviations = List.copyOf(deviations);
    this.jobs = List.copyOf(jobs);
    this.rules = new ExploredRules(kind, scanNs, limits);
  }

  /** Power-on; where the lid is not explored it has been opened and closed once since. */
  @Override
  public ExploredPlace powerOn() {
    long lid = Deviation.LID_A_OPEN.bit() | Deviation.LID_B_OPEN.bit();
    return deviations.contains(Deviation.LID_A_OPEN)
        ? dark()
        : step(dark(), ExploredJob.NOTHING, lid).next();
  }

  private static ExploredPlace dark() {
    return new ExploredPlace(
        InterlockState.powerOn(),
        Outputs.ALL_LOW,
        Outputs.ALL_LOW,
        ExploredPlace.Rig.POWER_ON,
        Optional.empty(),
        ExploredPlace.Facts.NONE,
        1_000_000 * MS);
  }

  @Override
  public int choices() {
    return jobs.size() << deviations.size();
  }

  @Override
  public Explorer.Step<ExploredPlace> step(ExploredPlace place, int choice) {
    return step(place, jobs.get(choice >> deviations.size()), deviating(choice));
  }

  long deviating(int choice) {
    long set = 0;
    for (int i = 0; i < deviations.size(); i++) {
      set |= (choice >> i & 1) != 0 ? deviations.get(i).bit() : 0;
    }
    return set;
  }

  @Override
  public void describe(ExploredPlace place, Fingerprint to) {
    place.describe(this, to);
  }

  @Override
  public String words(int choice) {
    long set = deviating(choice);
    String wrong =
        deviations.stream()
            .filter(one -> one.in(set))
            .map(Enum::name)
            .collect(Collectors.joining(", "));
    String wants = jobs.get(choice >> deviations.size()).words();
    return wrong.isEmpty() ? wants : wrong + "; " + wants;
  }

  /** One scan in which this is wanted and these are other than they should be. */
  Explorer.Step<ExploredPlace> step(ExploredPlace before, ExploredJob job, long wrong) {
    return step(before, (in, judged) -> job, wrong);
  }

  /** One scan of this work, in which these are other than they should be. */
  Explorer.Step<ExploredPlace> step(ExploredPlace before, Work work, long wrong) {
    long nowNs = before.nowNs() + scanNs;
    ExploredPlant plant = new ExploredPlant(kind, build, before, wrong);
    ExploredPlace.Rig rig = plant.rig();
    Contacts contacts = plant.contacts(rig, nowNs);
    List<ReceivedFrame> frames = plant.frames(rig, contacts, nowNs);
    Optional<View.Status> status = newest(frames).or(() -> ofThisBoot(before, frames));
    InterlockInputs in = inputs(before, wrong, nowNs, contacts, frames, status);
    InterlockStep judged = interlocks.step(before.interlocks(), in);
    ExploredJob job = work.wants(in, judged);
    Permission permission = judged.permission();
    boolean tripped = judged.tripped().isPresent();
    Outputs driven = tripped ? permission.lower(Outputs.ALL_LOW, before.driven()) : before.driven();
    driven = permission.lower(job.wanted(), driven);
    Outputs readBack =
        Deviation.PIN_STUCK.in(wrong) ? driven.with(OutputLine.COIL_FIRE, true) : driven;
    boolean beats = in.lateNs() <= limits.scanLateFireWaitsNs() && readBack.equals(driven);
    boolean asked = beats ? job.permit() && permission.permit() : !tripped && before.rig().asked();
    ExploredJob sent = tripped ? ExploredJob.NOTHING : job.asking(asked);
    ExploredPlace after =
        new ExploredPlace(
            judged.next(),
            driven,
            readBack,
            rig.asked(asked, sent),
            status,
            rules.facts(before, in, judged, driven),
            nowNs);
    return new Explorer.Step<>(after, rules.broken(before, in, judged, after));
  }

  private static InterlockInputs inputs(
      ExploredPlace before,
      long wrong,
      long nowNs,
      Contacts contacts,
      List<ReceivedFrame> frames,
      Optional<View.Status> status) {
    long lateNs =
        Deviation.SCAN_VERY_LATE.in(wrong) ? 200 * MS : Deviation.SCAN_LATE.in(wrong) ? 30 * MS : 0;
    boolean open = !Deviation.LINK_CLOSED.in(wrong);
    Optional<String> fault =
        Deviation.LEDGER_FAILED.in(wrong) ? Optional.of("the disk is full") : Optional.empty();
    return new InterlockInputs(
        nowNs,
        lateNs,
        contacts,
        frames,
        status,
        new LinkState(open, 0, open ? "open" : "the cable is out; put it in"),
        before.driven(),
        before.readBack(),
        new LedgerState(0, fault),
        Deviation.STOP_ASKED.in(wrong),
        Deviation.PROGRAM_FAILED.in(wrong));
  }

  private static Optional<View.Status> newest(List<ReceivedFrame> frames) {
    for (ReceivedFrame received : frames) {
      if (received.frame() instanceof HeadFrame.Status line) {
        return Optional.of(new View.Status(line, received.receivedAtNs()));
      }
    }
    return Optional.empty();
  }

  /** As the scan keeps it: a new run of the head makes an old line worthless. */
  private static Optional<View.Status> ofThisBoot(
      ExploredPlace before, List<ReceivedFrame> frames) {
    return before
        .status()
        .filter(
            line -> frames.stream().allMatch(one -> one.frame().bootId() == line.frame().bootId()));
  }

  ExploredKind kind() {
    return kind;
  }

  Limits limits() {
    return limits;
  }

  /** Time from scan to scan, in nanoseconds. */
  long scanNs() {
    return scanNs;
  }

  /** What the bank stands at on this level, in millivolts. */
  static int milliVolts(int level) {
    return MILLI_VOLTS[level];
  }

  private static final InputLine[] LINES = {
    InputLine.LID_A,
    InputLine.LID_B,
    InputLine.STOP_LOOP,
    InputLine.FILL_CONTACT,
    InputLine.BLEED_CONTACT,
    InputLine.REVERSE_CONTACT,
    InputLine.FULL_CONTACT
  };

  private static final HeadFlag[] COPIES = {
    HeadFlag.LID_A,
    HeadFlag.LID_B,
    HeadFlag.STOP_LOOP,
    HeadFlag.FILL_CONTACT,
    HeadFlag.BLEED_CONTACT,
    HeadFlag.REVERSE_CONTACT,
    HeadFlag.FULL_CONTACT
  };

  /** The head's copies of contacts among its flags. */
  static final int CONTACTS = flags(Contacts.of(List.of(InputLine.values()), 0));

  /** The flags of a head that sees these contacts. */
  static int flags(Contacts contacts) {
    int flags = 0;
    for (int i = 0; i < LINES.length; i++) {
      flags |= contacts.closed(LINES[i]) ? COPIES[i].bit() : 0;
    }
    return flags;
  }
}
