package lodestep.interlock;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lodestep.port.Contacts;
import lodestep.port.InputLine;
import lodestep.port.LedgerState;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;

/**
 * Mistakes planted in the interlocks: an exploration that does not find one of them is worthless.
 */
enum PlantedInterlock {
  LATCH_FORGETS(Deviation.Group.PERSON, logic -> (state, in) -> unlatched(logic.step(state, in))),
  RESET_WITHOUT_TURNING(
      Deviation.Group.PERSON,
      logic ->
          (state, in) -> {
            InterlockStep step = logic.step(state, in);
            boolean clear = step.tripped().isEmpty() && step.next().presentBits == 0;
            return clear ? unlatched(step) : step;
          }),
  PERMISSION_OF_LAST_SCAN(
      Deviation.Group.LID,
      logic -> (state, in) -> permitted(logic.step(state, in), Permissive.of(state.row()))),
  HOLD_UNDER_A_TRIP(
      Deviation.Group.PERSON,
      logic -> (state, in) -> also(logic.step(state, in), OutputLine.BANK_HOLD)),
  RELAYS_MOVED_UNDER_CURRENT(
      Deviation.Group.COIL,
      logic ->
          (state, in) -> {
            InterlockStep step = logic.step(state, in);
            Permission given = step.permission();
            return permitted(
                step, new Permission(given.allowed(), Outputs.ALL_LOW, given.permit()));
          }),
  PROOF_NOT_ASKED(
      Deviation.Group.PERSON,
      logic ->
          (state, in) -> {
            InterlockStep step = logic.step(state, in);
            PermissionRow proven = step.next().row().with(Condition.BANK_PROVEN, true);
            return permitted(step, Permissive.of(proven));
          }),
  SECOND_LID_CONTACT_NOT_READ(
      // While lines come the head tells of it.
      ExploredKind.BANK,
      List.of(Deviation.LID_A_OPEN, Deviation.LID_B_OPEN, Deviation.NO_LINE),
      logic ->
          (state, in) ->
              logic.step(
                  state, contacts(in, InputLine.LID_B, in.contacts().closed(InputLine.LID_A)))),
  KEY_NOT_READ(
      Deviation.Group.PERSON,
      logic -> (state, in) -> logic.step(state, contacts(in, InputLine.ARM_KEY, true))),
  BLEED_CONTACT_TAKEN_FOR_OPEN(
      Deviation.Group.RELAYS,
      logic ->
          (state, in) ->
              logic.step(
                  state,
                  in.driven().isHigh(OutputLine.BANK_HOLD)
                      ? contacts(in, InputLine.BLEED_CONTACT, false)
                      : in)),
  OLD_LINE_TAKEN_FOR_NEW(
      Deviation.Group.LINK,
      logic ->
          (state, in) ->
              logic.step(state, status(in, line -> new View.Status(line.frame(), in.nowNs())))),
  LATENESS_NOT_ASKED(
      Deviation.Group.TIME,
      logic ->
          (state, in) -> logic.step(state, with(in, 0, in.contacts(), in.status(), in.ledger()))),
  LEDGER_NOT_ASKED(
      Deviation.Group.PROGRAM,
      logic ->
          (state, in) ->
              logic.step(
                  state,
                  with(
                      in,
                      in.lateNs(),
                      in.contacts(),
                      in.status(),
                      new LedgerState(0, Optional.empty())))),
  BANK_NOT_READ(
      Deviation.Group.BANK,
      logic -> (state, in) -> logic.step(state, status(in, line -> figures(line, 0, 0)))),
  WINDOW_NOT_ASKED(
      ExploredKind.BANK,
      List.of(),
      logic -> (state, in) -> firing(logic.step(state, in), Condition.WINDOW_OPEN)),
  CHANGEOVER_NOT_ASKED(
      ExploredKind.BANK,
      List.of(Deviation.CHANGEOVER_STAYS),
      logic -> (state, in) -> firing(logic.step(state, in), Condition.RELAYS_SETTLED)),
  CONTACTS_OF_THE_HEAD_NOT_ASKED(
      ExploredKind.BANK,
      List.of(Deviation.HEAD_SEES_OTHER_CONTACT),
      logic -> (state, in) -> firing(logic.step(state, in), Condition.CONTACTS_AGREE)),
  // The chain alone is not enough: a head that sees it open lets go of its permit too.
  CHAIN_NOT_READ_AND_PERMIT_KEPT(
      ExploredKind.BANK,
      List.of(Deviation.CHAIN_OPEN),
      logic ->
          (state, in) ->
              logic.step(
                  state,
                  status(
                      in,
                      line ->
                          line.frame().has(HeadFlag.CHAIN)
                              ? line
                              : flagged(line, HeadFlag.CHAIN.bit() | HeadFlag.PERMIT.bit())))),
  FEED_KEPT_UNDER_A_TRIP(
      ExploredKind.SWITCHED,
      Deviation.Group.PERSON.deviations(),
      logic -> (state, in) -> also(logic.step(state, in), OutputLine.COIL_ON)),
  FEED_NOT_READ(
      ExploredKind.SWITCHED,
      Deviation.Group.FEED.deviations(),
      logic ->
          (state, in) ->
              logic.step(
                  state, status(in, line -> figures(line, 0, line.frame().coilMilliAmps())))),
  LENGTH_OF_THE_PULSE_NOT_ASKED(
      ExploredKind.SWITCHED,
      List.of(Deviation.TIMER_RUNS_LONG),
      logic -> (state, in) -> logic.step(young(state, in.nowNs()), in)),
  BANK_ALLOWED_BESIDE_A_FEED(
      ExploredKind.SWITCHED,
      Deviation.Group.PROGRAM.deviations(),
      logic -> (state, in) -> also(logic.step(state, in), OutputLine.BANK_HOLD)),
  DRIVER_KEPT_UNDER_A_TRIP(
      ExploredKind.BANK_AND_JIG,
      Deviation.Group.PERSON.deviations(),
      logic -> (state, in) -> also(logic.step(state, in), OutputLine.JIG_ENABLE)),
  PARK_POSITION_NOT_ASKED(
      ExploredKind.BANK_AND_JIG,
      Deviation.Group.MOTOR.deviations(),
      logic ->
          (state, in) -> {
            InterlockStep step = logic.step(state, in);
            PermissionRow parked = step.next().row().with(Condition.JIG_PARKED, true);
            return permitted(step, Permissive.of(parked));
          }),
  BOTH_ENDS_AT_ONCE_BELIEVED(
      ExploredKind.BANK_AND_JIG,
      List.of(Deviation.HOME_WIRE_BROKEN, Deviation.FAR_WIRE_BROKEN),
      logic ->
          (state, in) -> {
            InterlockStep step = logic.step(state, in);
            PermissionRow fit = step.next().row().with(Condition.JIG_FIT, true);
            return permitted(step, Permissive.of(fit));
          }),
  FAR_SWITCH_NOT_READ(
      ExploredKind.BANK_AND_JIG,
      Deviation.Group.MOTOR.deviations(),
      logic ->
          (state, in) ->
              logic.step(state, status(in, line -> flagged(line, HeadFlag.JIG_FAR.bit())))),
  HOME_SWITCH_NOT_READ(
      ExploredKind.BANK_AND_JIG,
      List.of(Deviation.MOTOR_STALLS, Deviation.HEAD_RUNS_ON),
      logic ->
          (state, in) ->
              logic.step(state, status(in, line -> flagged(line, HeadFlag.JIG_HOME.bit())))),
  WAY_NOT_COUNTED(
      ExploredKind.BANK_AND_JIG,
      List.of(Deviation.HOME_SWITCH_STAYS_CLOSED, Deviation.HEAD_RUNS_ON),
      logic -> (state, in) -> logic.step(state, status(in, PlantedInterlock::standing))),
  STEPS_OF_A_HEAD_ALONE_NOT_SEEN(
      ExploredKind.BANK_AND_JIG,
      List.of(Deviation.HEAD_STEPS_ALONE),
      logic -> (state, in) -> logic.step(state, status(in, PlantedInterlock::standing)));

  @SuppressWarnings("ImmutableEnumChecker") // an enum
  private final ExploredKind kind;

  @SuppressWarnings("ImmutableEnumChecker") // made by List.of
  private final List<Deviation> among;

  @SuppressWarnings("ImmutableEnumChecker") // holds nothing
  private final Function<InterlockLogic, ExploredRig.Interlocks> plant;

  PlantedInterlock(Deviation.Group group, Function<InterlockLogic, ExploredRig.Interlocks> plant) {
    this(ExploredKind.BANK, group.deviations(), plant);
  }

  PlantedInterlock(
      ExploredKind kind,
      List<Deviation> among,
      Function<InterlockLogic, ExploredRig.Interlocks> plant) {
    this.kind = kind;
    this.among = among;
    this.plant = plant;
  }

  /** The rig on which it must show. */
  ExploredKind kind() {
    return kind;
  }

  /** Deviations among which it must show. */
  List<Deviation> among() {
    return among;
  }

  /** The interlocks with this mistake in them. */
  ExploredRig.Interlocks in(InterlockLogic logic) {
    return plant.apply(logic);
  }

  /** With the gate never high for longer than a moment. */
  private static InterlockState young(InterlockState state, long nowNs) {
    DriveTimes old = state.drive;
    long sinceNs = Math.max(old.fireSinceNs(), nowNs - 2 * SwitchedWatch.RISEN_NS);
    DriveTimes times =
        new DriveTimes(
            old.driven(),
            old.started(),
            old.fillSinceNs(),
            old.holdSinceNs(),
            old.relaysSinceNs(),
            old.fire() ? sinceNs : old.fireSinceNs(),
            old.jigSinceNs());
    return new InterlockState(times, state.watches, state.latch, state.presentBits, state.row());
  }

  private static InterlockStep unlatched(InterlockStep step) {
    InterlockState next = step.next();
    InterlockState free =
        new InterlockState(next.drive, next.watches, Latch.CLEAR, next.presentBits, next.row());
    return new InterlockStep(free, step.permission(), step.tripped(), step.reset());
  }

  private static InterlockStep permitted(InterlockStep step, Permission permission) {
    return new InterlockStep(step.next(), permission, step.tripped(), step.reset());
  }

  /** With the gate allowed whether or not this condition is met, and nothing else changed. */
  private static InterlockStep firing(InterlockStep step, Condition condition) {
    boolean would =
        Permissive.of(step.next().row().with(condition, true))
            .allowed()
            .isHigh(OutputLine.COIL_FIRE);
    return would ? also(step, OutputLine.COIL_FIRE) : step;
  }

  private static InterlockStep also(InterlockStep step, OutputLine line) {
    Permission given = step.permission();
    Outputs more = given.allowed().and(line);
    return permitted(step, new Permission(more, given.kept(), given.permit()));
  }

  private static InterlockInputs contacts(InterlockInputs in, InputLine line, boolean closed) {
    return with(in, in.lateNs(), in.contacts().with(line, closed), in.status(), in.ledger());
  }

  private static InterlockInputs status(
      InterlockInputs in, Function<View.Status, View.Status> change) {
    return with(in, in.lateNs(), in.contacts(), in.status().map(change), in.ledger());
  }

  private static View.Status figures(View.Status line, int bankMilliVolts, int coilMilliAmps) {
    HeadFrame.Status frame = line.frame();
    return changed(line, bankMilliVolts, coilMilliAmps, frame.positionMicroMetres(), frame.flags());
  }

  private static View.Status flagged(View.Status line, int flags) {
    HeadFrame.Status frame = line.frame();
    return changed(
        line,
        frame.bankMilliVolts(),
        frame.coilMilliAmps(),
        frame.positionMicroMetres(),
        frame.flags() | flags);
  }

  private static View.Status standing(View.Status line) {
    HeadFrame.Status frame = line.frame();
    return changed(line, frame.bankMilliVolts(), frame.coilMilliAmps(), 0, frame.flags());
  }

  private static View.Status changed(
      View.Status line, int bankMilliVolts, int coilMilliAmps, int positionMicroMetres, int flags) {
    HeadFrame.Status frame = line.frame();
    return new View.Status(
        new HeadFrame.Status(
            frame.sequence(),
            frame.bootId(),
            frame.clockMs(),
            frame.sampleCounter(),
            frame.hallCounts(),
            frame.gaugeCentiDegC(),
            frame.coilCentiDegC(),
            bankMilliVolts,
            coilMilliAmps,
            positionMicroMetres,
            flags),
        line.receivedAtNs());
  }

  private static InterlockInputs with(
      InterlockInputs in,
      long lateNs,
      Contacts contacts,
      Optional<View.Status> status,
      LedgerState ledger) {
    return new InterlockInputs(
        in.nowNs(),
        lateNs,
        contacts,
        in.frames(),
        status,
        in.link(),
        in.driven(),
        in.readBack(),
        ledger,
        in.stopAsked(),
        in.programFailed());
  }
}
