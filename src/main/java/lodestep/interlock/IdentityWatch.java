package lodestep.interlock;

import java.util.List;
import java.util.Optional;
import lodestep.port.ReceivedFrame;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFrame;

/**
 * Whether the head has said who it is in its present run, and is the one that may be used: it
 * speaks this program's protocol, has the serial number that the rig names, if it names one, was
 * built with the rig's figures, and has proven its watchdog. A lost link ends what was said:
 * another head may come back.
 *
 * @param bootId the run that speaks now, {@link #NO_BOOT} before its first frame
 * @param hello what it said of itself in this run
 * @param build the figures that it said it was built with in this run
 * @param met whether this very scan brought the first hello of a run
 * @param recorded the run whose first hello was brought last
 * @param sinceNs when the run that speaks now was first heard
 */
record IdentityWatch(
    int bootId,
    Optional<HeadFrame.Hello> hello,
    Optional<HeadFrame.Build> build,
    boolean met,
    int recorded,
    long sinceNs) {

  private static final int NO_BOOT = -1;

  static final IdentityWatch POWER_ON =
      new IdentityWatch(NO_BOOT, Optional.empty(), Optional.empty(), false, NO_BOOT, 0);

  /** Twenty askings, of which one comes through on any line that is of use; starting value. */
  static final long HELLO_WAIT_NS = 2_000_000_000L;

  IdentityWatch step(Seen seen) {
    if (!seen.in().link().open()) {
      boolean forgotten = bootId == NO_BOOT && !met;
      return forgotten
          ? this
          : new IdentityWatch(NO_BOOT, Optional.empty(), Optional.empty(), false, recorded, 0);
    }
    IdentityWatch next =
        met ? new IdentityWatch(bootId, hello, build, false, bootId, sinceNs) : this;
    List<ReceivedFrame> frames = seen.in().frames();
    for (int i = 0; i < frames.size(); i++) {
      next = next.after(frames.get(i).frame(), seen.nowNs());
    }
    return next;
  }

  private IdentityWatch after(HeadFrame frame, long nowNs) {
    boolean same = frame.bootId() == bootId;
    long since = same ? sinceNs : nowNs;
    Optional<HeadFrame.Build> kept = same ? build : Optional.empty();
    if (frame instanceof HeadFrame.Hello said) {
      boolean first = met || said.bootId() != recorded;
      return new IdentityWatch(said.bootId(), Optional.of(said), kept, first, recorded, since);
    }
    if (frame instanceof HeadFrame.Build said) {
      Optional<HeadFrame.Hello> who = same ? hello : Optional.empty();
      boolean first = same && met;
      return new IdentityWatch(said.bootId(), who, Optional.of(said), first, recorded, since);
    }
    return same
        ? this
        : new IdentityWatch(frame.bootId(), Optional.empty(), kept, false, recorded, nowNs);
  }

  /** Whether this head may be used. */
  boolean fit(Figures figures) {
    return hello.isPresent()
        && build.isPresent()
        && objection(hello.get(), figures).isEmpty()
        && figures.headBuild().difference(build.get()).isEmpty();
  }

  /** Whether it has said all that is asked of it; one of another version says no more. */
  boolean said() {
    return hello.isPresent()
        && (build.isPresent() || hello.get().protocolVersion() != HeadFrame.PROTOCOL_VERSION);
  }

  /** Why this head may not be used, in words; empty while it may, or may yet turn out to. */
  Optional<String> objection(Seen seen) {
    Optional<String> objection =
        hello
            .flatMap(said -> objection(said, seen.figures()))
            .or(() -> build.flatMap(said -> otherBuild(said, seen.figures())));
    boolean waited = bootId != NO_BOOT && seen.nowNs() - sinceNs > HELLO_WAIT_NS;
    return objection.isPresent() || said() || !waited
        ? objection
        : Optional.of(
            hello.isPresent()
                ? "it does not say what it was built with"
                : "it sends its state and does not say who it is");
  }

  private static Optional<String> otherBuild(HeadFrame.Build said, Figures figures) {
    return figures
        .headBuild()
        .difference(said)
        .map(differing -> "it was built for another rig than rig.toml's: " + differing);
  }

  private static Optional<String> objection(HeadFrame.Hello said, Figures figures) {
    String wanted = figures.headSerialNumber();
    if (said.protocolVersion() != HeadFrame.PROTOCOL_VERSION) {
      return Optional.of(
          "it speaks version "
              + said.protocolVersion()
              + " of the protocol and this program version "
              + HeadFrame.PROTOCOL_VERSION);
    }
    if (!wanted.isEmpty() && !wanted.equals(said.serialNumber())) {
      return Optional.of("it is " + said.serialNumber() + " and rig.toml names " + wanted);
    }
    return said.watchdogProven()
        ? Optional.empty()
        : Optional.of("its watchdog was not proven when it started");
  }

  long causes(Seen seen) {
    return Causes.when(objection(seen).isPresent(), TripCause.HEAD_NOT_FIT);
  }
}
