package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.TripCause;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Mirror contacts and the read-back of outputs. */
class RelayInterlocksTest {

  private static final String MIRRORS =
      """
      FILL_CONTACT,    FILL_CONTACT_WRONG
      BLEED_CONTACT,   BLEED_CONTACT_WRONG
      REVERSE_CONTACT, CHANGEOVER_WRONG
      FULL_CONTACT,    RANGE_RELAY_WRONG
      """;

  @ParameterizedTest
  @CsvSource(textBlock = MIRRORS)
  @Provokes({
    TripCause.FILL_CONTACT_WRONG,
    TripCause.BLEED_CONTACT_WRONG,
    TripCause.CHANGEOVER_WRONG,
    TripCause.RANGE_RELAY_WRONG
  })
  void tripsWhenAMirrorContactIsWrongForMoreThanTheLimit(InputLine line, TripCause cause) {
    Bench bench = Bench.ready().set(line, !closedAtRest(line)).run(110);

    assertThat(bench.tripped()).contains(cause);
  }

  @ParameterizedTest
  @CsvSource(textBlock = MIRRORS)
  @Spares({
    TripCause.FILL_CONTACT_WRONG,
    TripCause.BLEED_CONTACT_WRONG,
    TripCause.CHANGEOVER_WRONG,
    TripCause.RANGE_RELAY_WRONG
  })
  void sparesAMirrorContactThatIsWrongForExactlyTheLimit(InputLine line, TripCause cause) {
    Bench bench = Bench.ready().set(line, !closedAtRest(line)).run(105);
    bench.free(line).run(500);

    assertThat(bench.tripped()).as(cause.what()).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({
    "BANK_HOLD,    BLEED_CONTACT,   BLEED_CONTACT_WRONG",
    "COIL_REVERSE, REVERSE_CONTACT, CHANGEOVER_WRONG",
    "COIL_FULL,    FULL_CONTACT,    RANGE_RELAY_WRONG"
  })
  @Provokes({
    TripCause.BLEED_CONTACT_WRONG,
    TripCause.CHANGEOVER_WRONG,
    TripCause.RANGE_RELAY_WRONG
  })
  void tripsWhenADrivenRelayDoesNotMove(OutputLine output, InputLine mirror, TripCause cause) {
    Bench bench = Bench.ready().set(mirror, closedAtRest(mirror)).drive(output).run(110);

    assertThat(bench.tripped()).contains(cause);
  }

  @Test
  @Provokes(TripCause.FILL_CONTACT_WRONG)
  void tripsWhenTheFillRelayIsWelded() {
    Bench bench = Bench.ready().drive(OutputLine.BANK_HOLD, OutputLine.BANK_FILL).run(500);
    bench.set(InputLine.FILL_CONTACT, false).drive(OutputLine.BANK_HOLD).run(110);

    assertThat(bench.tripped()).contains(TripCause.FILL_CONTACT_WRONG);
  }

  @Test
  @Provokes(TripCause.OUTPUT_READ_BACK)
  void tripsWhenAnOutputReadsBackWrongForMoreThanTheLimit() {
    Bench bench = Bench.ready();
    bench.readBack = Optional.of(Outputs.high(OutputLine.LAMP_BUSY));

    assertThat(bench.run(20).tripped()).contains(TripCause.OUTPUT_READ_BACK);
    assertThat(bench.firstTrip.orElseThrow().detail())
        .isEqualTo("driven nothing, read back lamp busy");
  }

  @Test
  @Spares(TripCause.OUTPUT_READ_BACK)
  void sparesAReadBackThatLagsExactlyTheLimit() {
    Bench bench = Bench.ready();
    bench.readBack = Optional.of(Outputs.high(OutputLine.LAMP_BUSY));
    bench.run(15);
    bench.readBack = Optional.empty();

    assertThat(bench.run(100).tripped()).isEmpty();
  }

  private static boolean closedAtRest(InputLine line) {
    return line == InputLine.FILL_CONTACT || line == InputLine.BLEED_CONTACT;
  }
}
