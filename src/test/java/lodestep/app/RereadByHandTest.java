package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.app.CommandRun.Ended;
import lodestep.bench.SeriesJob;
import lodestep.cli.HeadWork;
import lodestep.cli.KeepingWork.RereadRun;
import lodestep.cli.Refusal;
import lodestep.port.KeepingEvent.MagnetReread;
import lodestep.port.LedgerEvent;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: a magnet that was knocked down by hand is read again as any other, by the rig and by hand.
 * Method: a virtual hand beside a virtual rig, and its record.
 */
class RereadByHandTest {

  private static final String[] BY_HAND = {
    "hand",
    "--name",
    "wren",
    "--alloy",
    "alnico 2",
    "--size",
    "5.1 x 18 mm",
    "--pole-up",
    "south",
    "--target",
    "430 G",
    "--tolerance",
    "10 G"
  };

  private final Path ledger;
  private final Wiring wiring = new Wiring(Outside.unattended());

  RereadByHandTest(@TempDir Path folder) {
    this.ledger = folder.resolve("hand.ledger");
  }

  private Ended onLedger(String... arguments) {
    return CommandRun.on(ledger, arguments);
  }

  private long dialed() throws IOException {
    Ended dialed = onLedger(BY_HAND);
    assertThat(dialed.code()).as(dialed.out() + dialed.err()).isZero();
    return onLedger("history", "wren", "--json").json().get(0).get("magnet").asLong();
  }

  @Test
  void rigReadsAgainWhatWasKnockedDownByHand() throws IOException {
    dialed();

    Ended again = onLedger("reread", "wren", "--later", "1 week", "--json");

    assertThat(again.code()).as(again.out() + again.err()).isZero();
    JsonNode magnet = again.json().get("magnets").get(0);
    assertThat(magnet.get("finding").asText()).isEqualTo("kept");
    assertThat(magnet.get("why").asText()).contains("7 days before");
    // It was knocked down by a field that nobody knows, and time takes next to nothing all the
    // same.
    assertThat(magnet.get("expectedNanoTesla").asLong()).isBetween(-60_000L, 0L);
  }

  /** Hears what is said and what goes on record. */
  private static final class Heard implements HeadWork.HandWatcher {

    private final List<LedgerEvent> events = new ArrayList<>();
    private final List<String> sentences = new ArrayList<>();

    @Override
    public void event(LedgerEvent event, double seconds) {
      events.add(event);
    }

    @Override
    public void now(HeadWork.HandLive live) {
      if (!sentences.contains(live.sentence())) {
        sentences.add(live.sentence());
      }
    }

    @Override
    public void says(String sentence) {
      sentences.add(sentence);
    }
  }

  private RereadRun run(Long... magnets) {
    return new RereadRun(
        wiring.rig(Optional.empty()), ledger, List.of(magnets), Optional.empty(), 1);
  }

  @Test
  void personReadsItAgainWithTheHeadAloneAndItIsComparedAndOnRecord() throws IOException {
    long magnet = dialed();
    onLedger("note", "wren", "--what", "knock");
    Heard heard = new Heard();

    SeriesJob.Done done = wiring.keeping().rereadByHand(run(magnet), heard);

    assertThat(done.series().complete()).isTrue();
    assertThat(heard.sentences)
        .contains(
            "1 of 1: put wren in the rod nest, its face that looks at the strings, south, to the"
                + " gauge, and press Enter.");
    List<LedgerEvent> reread =
        heard.events.stream().filter(MagnetReread.class::isInstance).toList();
    assertThat(reread)
        .singleElement()
        .isInstanceOfSatisfying(
            MagnetReread.class,
            found -> {
              assertThat(found.magnet()).isEqualTo(magnet);
              assertThat(found.finding()).as(found.why()).isEqualTo("kept");
              assertThat(found.differenceUncertaintyNanoTesla()).isBetween(50_000L, 400_000L);
            });
    assertThat(onLedger("history", "wren").out()).contains("reading, read again", "kept");
    JsonNode history = onLedger("history", "wren", "--json").json().get(0);
    assertThat(history.get("toBeReadAgain").asBoolean()).isFalse();
    assertThat(onLedger("prove").code()).isZero();
  }

  @Test
  void magnetsThatCannotBeReadAgainByHandAreRefusedBeforehand() throws IOException {
    long rod = dialed();
    onLedger(
        "dial",
        "--name",
        "slate",
        "--alloy",
        "alnico 5",
        "--shape",
        "bar",
        "--size",
        "60 x 12 x 3.6 mm",
        "--pole-up",
        "north",
        "--target",
        "310 G",
        "--tolerance",
        "9 G");
    long bar = onLedger("history", "slate", "--json").json().get(0).get("magnet").asLong();

    assertThatThrownBy(() -> wiring.keeping().rereadByHand(run(rod, bar), new Heard()))
        .isInstanceOf(Refusal.class)
        .hasMessageContaining("name those of one at a time");
    assertThatThrownBy(() -> wiring.keeping().rereadByHand(run(9_999L), new Heard()))
        .isInstanceOf(Refusal.class)
        .hasMessage("no magnet 9999 is on record");
  }
}
