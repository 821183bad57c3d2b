package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import lodestep.config.BankConfig;
import lodestep.config.CoilConfig;
import lodestep.config.SupplyConfig;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.ElectricCurrent;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;
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

  // A switched coil: 40 V through 2 ohms and a ladder of 80, 40 and 20; level 4 gives 1.818 A.

  private static final SupplyConfig SUPPLY =
      new SupplyConfig(
          new Voltage(40),
          new ElectricCurrent(20),
          List.of(80.0, 40.0, 20.0),
          470,
          60 * MS,
          120 * MS);
  private static final CoilConfig COIL =
      new CoilConfig("coil", 2.0, 2e-3, 15_000, 0, 25, 7, Temperature.ofDegC(70));
  private static final Figures SWITCHED =
      Figures.of(
          new InterlockSettings(
              Bench.SETTINGS.limits(),
              BankConfig.NONE,
              Optional.of(new SwitchedFigures(SUPPLY, List.of(COIL))),
              Temperature.ofDegC(70),
              Optional.empty(),
              ""));

  private static Look firing(long milliseconds, int milliAmps) {
    Look look =
        new Look(SWITCHED, milliseconds * MS)
            .driven(OutputLine.LADDER_3, OutputLine.COIL_ON, OutputLine.COIL_FIRE);
    look.fireSinceNs = 0;
    look.coilMilliAmps = milliAmps;
    return look;
  }

  /** Twelve hundredths and 60 mA on either side of 1,818 mA. */
  private static SwitchedWatch fired() {
    SwitchedWatch fired = SwitchedWatch.POWER_ON.step(firing(0, 0).seen());
    SwitchedFigures.Between expected = fired.expected().orElseThrow();
    assertThat(expected.least()).isEqualTo(1_539);
    assertThat(expected.most()).isEqualTo(2_096);
    assertThat(fired.awaited()).isTrue();
    return fired;
  }

  @Test
  void findsACurrentAboveItsLevelOnceItHasComeToRest() {
    assertThat(fired().step(firing(15, 2_097).seen()).seenMilliAmps()).isZero();
    assertThat(fired().step(firing(16, 2_097).seen()).seenMilliAmps()).isEqualTo(2_097);
    assertThat(fired().step(firing(16, -2_097).seen()).seenMilliAmps()).isEqualTo(2_097);
    assertThat(fired().step(firing(16, 2_096).seen()).seenMilliAmps()).isZero();
    assertThat(fired().step(firing(16, 2_097).old().seen()).seenMilliAmps()).isZero();
    Look over = firing(16, 2_097).driven(OutputLine.LADDER_3, OutputLine.COIL_ON);
    assertThat(fired().step(over.seen()).seenMilliAmps()).isZero();
  }

  /** The hardware timer's 120 ms and 40 for what dies away. */
  @Test
  void findsAPulseThatDoesNotEnd() {
    assertThat(fired().step(firing(160, 1_800).seen()).tooLongMicros()).isZero();
    assertThat(fired().step(firing(161, 1_800).seen()).tooLongMicros()).isEqualTo(161_000);
    assertThat(fired().step(firing(161, 50).seen()).tooLongMicros()).isZero();
    assertThat(fired().step(firing(161, 1_800).old().seen()).tooLongMicros()).isZero();
  }

  private static Look reported(int milliAmps, int micros) {
    Look look = new Look(SWITCHED, 200 * MS).driven(OutputLine.LADDER_3, OutputLine.COIL_ON);
    return look.frame(
        new HeadFrame.PulseReport(17, 5, 9, milliAmps, 0, 40_000, 40_000, micros, true));
  }

  @ParameterizedTest
  @CsvSource({
    "1539, 60000, 0, 0",
    "1538, 60000, 1538, 0",
    "2096, 160000, 0, 0",
    "2097, 60000, 2097, 0",
    "1800, 160001, 0, 160001"
  })
  void judgesAPulseByItsReport(int milliAmps, int micros, int off, long tooLong) {
    SwitchedWatch judged = fired().step(reported(milliAmps, micros).seen());

    assertThat(judged.seenMilliAmps()).isEqualTo(off);
    assertThat(judged.tooLongMicros()).isEqualTo(tooLong);
    assertThat(judged.awaited()).isFalse();
    // I²t R over the heat capacity, the copper at 30 °C.
    double amps = milliAmps * 1e-3;
    assertThat(judged.warmth().kelvin())
        .isCloseTo(amps * amps * micros * 1e-6 * 2 * 1.0393 / 25, within(1e-9));
  }

  @Test
  void judgesNoReportOfAnEarlierStart() {
    SwitchedWatch asked = SwitchedWatch.POWER_ON.step(reported(9_000, 60_000).seen());

    assertThat(asked).isEqualTo(SwitchedWatch.POWER_ON);
    SwitchedWatch judged = fired().step(reported(1_800, 60_000).seen());
    assertThat(judged.step(reported(9_000, 900_000).seen()).seenMilliAmps()).isZero();
  }

  @Test
  void namesTheLevelThatIsDriven() {
    assertThat(SwitchedWatch.level(firing(0, 0).seen())).isEqualTo("level 4");
    assertThat(SwitchedWatch.level(firing(0, 0).driven(OutputLine.COIL_FULL).seen()))
        .isEqualTo("charging range");
  }

  @Test
  void saysWithFiguresWhatAPulseOfASwitchedCoilDid() {
    Watches off = watches(fired().step(reported(2_500, 165_000).seen()));
    Seen seen = reported(2_500, 165_000).seen();

    assertThat(Details.of(TripCause.PULSE_TOO_LONG, seen, off)).isEqualTo("165 ms");
    assertThat(Details.of(TripCause.CURRENT_OFF_LEVEL, seen, off))
        .startsWith("2.5")
        .contains("at level 4");
    SwitchedWatch hot =
        new SwitchedWatch(Optional.empty(), false, 0, 0, new SwitchedFigures.Warmth(41.2, 0), true);
    assertThat(Details.of(TripCause.COIL_HEAT_SPENT, seen, watches(hot)))
        .startsWith("a rise of 41 K by its pulses, coil at 20");
  }

  private static Watches watches(SwitchedWatch switched) {
    Watches on = Watches.POWER_ON;
    return new Watches(
        on.lid(),
        on.head(),
        on.identity(),
        on.line(),
        on.sensors(),
        on.relays(),
        on.bank(),
        on.proof(),
        on.pulse(),
        switched,
        on.jig());
  }

  @Test
  void bearsTheHeatUpToTheCoilsLimit() {
    SwitchedFigures figures = new SwitchedFigures(SUPPLY, List.of(COIL));

    // From 30 °C; 70 are allowed.
    assertThat(figures.bears(new SwitchedFigures.Warmth(39.9, 0), 0, 0)).isTrue();
    assertThat(figures.bears(new SwitchedFigures.Warmth(40.1, 0), 0, 0)).isFalse();
    assertThat(figures.bears(new SwitchedFigures.Warmth(31.9, 0), 0, 8)).isTrue();
    assertThat(figures.bears(new SwitchedFigures.Warmth(32.1, 0), 0, 8)).isFalse();
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
