package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/** Goal: what the head's lines, reports and words are taken for, at each limit. */
class HeadWatchesTest {

  private static final long MS = Look.MS;

  // Age and what is known.

  @Test
  void takesALineForReceivedWhenItCame() {
    Look late = Look.at(500);
    late.ageNs = 30 * MS;

    assertThat(HeadWatch.POWER_ON.step(late.seen()).lastAtNs()).isEqualTo(470 * MS);
  }

  @Test
  void countsTheAgeOfAHeadThatIsNotHeardAnyMoreFromItsLastLine() {
    HeadWatch heard = HeadWatch.POWER_ON.step(Look.at(500).seen());
    Look gone = Look.at(700);
    gone.heard = false;

    assertThat(Seen.of(gone.in(), Look.BANK, DriveTimes.POWER_ON, heard).headAgeNs())
        .isEqualTo(200 * MS);
    assertThat(Seen.of(gone.in(), Look.BANK, DriveTimes.POWER_ON, HeadWatch.POWER_ON).headAgeNs())
        .isEqualTo(Long.MAX_VALUE);
  }

  @Test
  void knowsNothingByALineThatIsTooOldOrOfNoOpenLink() {
    Look old = Look.at(500);
    old.ageNs = 150 * MS;
    assertThat(old.seen().known()).isTrue();
    old.ageNs = 150 * MS + 1;
    assertThat(old.seen().known()).isFalse();
    Look shut = Look.at(500);
    shut.linkOpen = false;
    assertThat(shut.seen().known()).isFalse();
    Look never = Look.at(500);
    never.heard = false;
    assertThat(never.seen().known()).isFalse();
  }

  @ParameterizedTest
  @EnumSource(
      names = {"BANK_FILL", "BANK_HOLD", "COIL_FIRE", "COIL_ON", "JIG_ENABLE"},
      value = OutputLine.class)
  void isEnergisedByWhatIsDrivenAndByWhatReadsBack(OutputLine line) {
    Look driven = Look.at(0).driven(line);
    driven.readBack = Outputs.ALL_LOW;
    Look readBack = Look.at(0);
    readBack.readBack = Outputs.high(line);

    assertThat(driven.seen().energised()).isTrue();
    assertThat(readBack.seen().energised()).isTrue();
    assertThat(Look.at(0).driven(OutputLine.COIL_FULL).seen().energised()).isFalse();
  }

  // Who the head is.

  private static final HeadFrame.Build BUILD =
      Builds.inRun(17, HeadBuild.of(Bench.SETTINGS).wanted());

  private static HeadFrame.Hello hello(int bootId) {
    return new HeadFrame.Hello(bootId, "H-7", HeadFrame.PROTOCOL_VERSION, "0.1", true);
  }

  private static IdentityWatch after(IdentityWatch from, HeadFrame... frames) {
    Look look = Look.at(10);
    for (HeadFrame frame : frames) {
      look.frame(frame);
    }
    return from.step(look.seen());
  }

  @Test
  void knowsAHeadByItsHelloAndItsBuildInAnyOrder() {
    assertThat(after(IdentityWatch.POWER_ON, hello(17), BUILD).fit(Look.BANK)).isTrue();
    assertThat(after(IdentityWatch.POWER_ON, BUILD, hello(17)).fit(Look.BANK)).isTrue();
    assertThat(after(IdentityWatch.POWER_ON, hello(17)).fit(Look.BANK)).isFalse();
    assertThat(after(IdentityWatch.POWER_ON, BUILD).fit(Look.BANK)).isFalse();
  }

  @Test
  void forgetsWhatAnotherRunOfTheHeadHasSaid() {
    IdentityWatch known = after(IdentityWatch.POWER_ON, hello(17), BUILD);

    assertThat(after(known, hello(18)).build()).isEmpty();
    assertThat(after(known, Builds.inRun(18, BUILD)).hello()).isEmpty();
    assertThat(after(known, new HeadFrame.TokenGrant(18, 5, 9)).said()).isFalse();
    assertThat(after(known, new HeadFrame.TokenGrant(17, 5, 9)).said()).isTrue();
  }

  @Test
  void meetsAHeadOnceInItsRun() {
    IdentityWatch met = after(IdentityWatch.POWER_ON, hello(17), BUILD);

    assertThat(met.met()).isTrue();
    assertThat(after(met).met()).isFalse();
    assertThat(after(met, hello(17), BUILD).met()).isFalse();
    assertThat(after(met, BUILD).met()).isFalse();
    assertThat(after(met, hello(18)).met()).isTrue();
    assertThat(after(IdentityWatch.POWER_ON, BUILD).met()).isFalse();
    // A build of another run, in the scan of a hello, is no meeting.
    assertThat(after(IdentityWatch.POWER_ON, hello(17), Builds.inRun(18, BUILD)).met()).isFalse();
  }

  @Test
  void saysThatTheHeadHasSaidWhoItIs() {
    assertThat(Bench.ready().state.headHasSaidWho()).isTrue();
    assertThat(InterlockState.powerOn().headHasSaidWho()).isFalse();
  }

  // Damaged lines.

  private static Look bad(long milliseconds, long lines) {
    Look look = Look.at(milliseconds);
    look.badLines = lines;
    return look;
  }

  @Test
  void bearsTwoDamagedLinesASecond() {
    LineWatch two = LineWatch.POWER_ON.step(bad(0, 2).seen());
    LineWatch three = two.step(bad(1_000, 3).seen());

    assertThat(two.causes(bad(0, 2).seen())).isZero();
    assertThat(three.causes(bad(1_000, 3).seen())).isEqualTo(Causes.bit(TripCause.HEAD_LINE_BAD));
    assertThat(three.causes(bad(1_001, 3).seen())).isZero();
    assertThat(LineWatch.POWER_ON.step(bad(0, 9).seen()).atNs()).hasSize(3);
  }

  // The coil's thermometer.

  @ParameterizedTest
  @CsvSource({"7000, true, false", "7001, false, true", "-3999, true, false"})
  void takesACoilForCoolUpToItsLimit(int centiDegC, boolean cool, boolean hot) {
    Look look = Look.at(0);
    look.coilCentiDegC = centiDegC;

    assertThat(SensorWatch.POWER_ON.coilCool(look.seen())).isEqualTo(cool);
    assertThat(SensorWatch.POWER_ON.causes(look.seen()))
        .isEqualTo(hot ? Causes.bit(TripCause.COIL_HOT) : 0);
  }

  @ParameterizedTest
  @CsvSource({"14999, 0", "15000, 1", "-3999, 0", "-4000, 1"})
  void countsLinesOffTheThermometersScale(int centiDegC, int offScale) {
    Look look = Look.at(0);
    look.coilCentiDegC = centiDegC;

    assertThat(SensorWatch.POWER_ON.step(look.seen()).offScale()).isEqualTo(offScale);
  }

  // Reports of pulses.

  private static HeadFrame report(int forward, int reverse, boolean fired) {
    return new HeadFrame.PulseReport(17, 5, 9, forward, reverse, 0, 0, 0, fired);
  }

  private static final PulseWatch AWAITED = new PulseWatch(true, false, false, false, false);

  /** The pulse was sent forward: at most a fiftieth of it, or 50 mA, may come the other way. */
  @ParameterizedTest
  @CsvSource({"10000, 200, false", "10000, 201, true", "100, 50, false", "100, 51, true"})
  void bearsALittleCurrentOfTheWrongSign(int forward, int reverse, boolean wrong) {
    Look look = Look.at(10).frame(report(forward, reverse, true));

    assertThat(AWAITED.step(look.seen()).wrongSign()).isEqualTo(wrong);
  }

  @Test
  void judgesNoReportThatIsNotAwaited() {
    Look look = Look.at(10).frame(report(0, 9_000, false));

    PulseWatch asked = PulseWatch.POWER_ON.step(look.seen());
    assertThat(asked.wrongSign()).isFalse();
    assertThat(asked.notFired()).isFalse();
    PulseWatch due = AWAITED.step(look.seen());
    assertThat(due.wrongSign()).isTrue();
    assertThat(due.notFired()).isTrue();
    assertThat(due.awaited()).isFalse();
    assertThat(due.step(Look.at(20).seen())).isEqualTo(PulseWatch.POWER_ON);
  }

  @Test
  void remembersWhichWayThePulseWasSent() {
    Look rose =
        Look.at(10).driven(OutputLine.BANK_HOLD, OutputLine.COIL_REVERSE, OutputLine.COIL_FIRE);
    rose.fireSinceNs = 10 * MS;

    PulseWatch sent = PulseWatch.POWER_ON.step(rose.seen());

    assertThat(sent.awaited()).isTrue();
    assertThat(sent.reverse()).isTrue();
    // The relay may have moved before the report comes.
    PulseWatch later = sent.step(Look.at(90).frame(report(0, 9_000, true)).seen());
    assertThat(later.wrongSign()).isFalse();
    assertThat(later.reverse()).isTrue();
    assertThat(sent.step(Look.at(90).frame(report(9_000, 0, true)).seen()).wrongSign()).isTrue();
    PulseWatch forward = PulseWatch.POWER_ON.step(Look.at(90).frame(report(9_000, 0, true)).seen());
    assertThat(forward.reverse()).isFalse();
  }

  @Test
  void takesAWindowForUsedUntilALineShowsItShut() {
    Look fell = Look.at(10).says(HeadFlag.WINDOW);
    fell.fireSinceNs = 10 * MS;
    PulseWatch used = PulseWatch.POWER_ON.step(fell.seen());

    assertThat(used.windowUsed()).isTrue();
    assertThat(used.step(Look.at(15).says(HeadFlag.WINDOW).seen()).windowUsed()).isTrue();
    assertThat(used.step(Look.at(15).old().seen()).windowUsed()).isTrue();
    assertThat(used.step(Look.at(15).seen()).windowUsed()).isFalse();
    assertThat(used.windowOpen(Look.at(15).says(HeadFlag.WINDOW).seen())).isFalse();
    assertThat(PulseWatch.POWER_ON.windowOpen(Look.at(15).says(HeadFlag.WINDOW).seen())).isTrue();
    assertThat(PulseWatch.POWER_ON.windowOpen(Look.at(15).seen())).isFalse();
  }

  @Test
  void givesTheCurrentFiftyMillisecondsToDieByTheLinesOwnTime() {
    Look dying = Look.at(50);
    dying.fireSinceNs = 0;
    dying.coilMilliAmps = 51;
    assertThat(PulseWatch.POWER_ON.causes(dying.seen())).isZero();

    dying.nowNs = 50 * MS + 1;
    long uncommanded = Causes.bit(TripCause.CURRENT_UNCOMMANDED);
    assertThat(PulseWatch.POWER_ON.causes(dying.seen())).isEqualTo(uncommanded);
    dying.ageNs = 1;
    assertThat(PulseWatch.POWER_ON.causes(dying.seen())).isZero();
    dying.ageNs = 0;
    dying.coilMilliAmps = -50;
    assertThat(PulseWatch.POWER_ON.causes(dying.seen())).isZero();
    dying.coilMilliAmps = -51;
    assertThat(PulseWatch.POWER_ON.causes(dying.seen())).isEqualTo(uncommanded);
  }

  @Test
  void differsFromTheHeadByNoContactWhereBothSeeTheSame() {
    Look same =
        Look.at(0)
            .says(
                HeadFlag.LID_A,
                HeadFlag.LID_B,
                HeadFlag.STOP_LOOP,
                HeadFlag.FILL_CONTACT,
                HeadFlag.BLEED_CONTACT);

    assertThat(HeadWatch.differing(same.seen())).isZero();
    assertThat(HeadWatch.differing(same.contact(InputLine.REVERSE_CONTACT, true).seen()))
        .isEqualTo(HeadFlag.REVERSE_CONTACT.bit());
  }
}
