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
      logic ->
          (state, in) -> {
            InterlockStep step = logic.step(state, in);
            Permission given = step.permission();
            Outputs more = given.allowed().and(OutputLine.BANK_HOLD);
            return permitted(step, new Permission(more, given.kept(), given.permit()));
          }),
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
      logic -> (state, in) -> logic.step(state, status(in, line -> figures(line, 0, 0))));

  @SuppressWarnings("ImmutableEnumChecker") // made by List.of
  private final List<Deviation> among;

  @SuppressWarnings("ImmutableEnumChecker") // holds nothing
  private final Function<InterlockLogic, ExploredRig.Interlocks> plant;

  PlantedInterlock(Deviation.Group group, Function<InterlockLogic, ExploredRig.Interlocks> plant) {
    this(group.deviations(), plant);
  }

  PlantedInterlock(List<Deviation> among, Function<InterlockLogic, ExploredRig.Interlocks> plant) {
    this.among = among;
    this.plant = plant;
  }

  /** Deviations among which it must show. */
  List<Deviation> among() {
    return among;
  }

  /** The interlocks with this mistake in them. */
  ExploredRig.Interlocks in(InterlockLogic logic) {
    return plant.apply(logic);
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

  private static InterlockInputs contacts(InterlockInputs in, InputLine line, boolean closed) {
    return with(in, in.lateNs(), in.contacts().with(line, closed), in.status(), in.ledger());
  }

  private static InterlockInputs status(
      InterlockInputs in, Function<View.Status, View.Status> change) {
    return with(in, in.lateNs(), in.contacts(), in.status().map(change), in.ledger());
  }

  private static View.Status figures(View.Status line, int bankMilliVolts, int coilMilliAmps) {
    return changed(line, bankMilliVolts, coilMilliAmps, line.frame().flags());
  }

  private static View.Status changed(
      View.Status line, int bankMilliVolts, int coilMilliAmps, int flags) {
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
            frame.positionMicroMetres(),
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
