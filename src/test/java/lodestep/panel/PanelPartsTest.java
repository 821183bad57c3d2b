package lodestep.panel;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;
import lodestep.port.TripCause;
import org.junit.jupiter.api.Test;

/** The parts of the page's server, each by itself. */
class PanelPartsTest {

  private static final Path ROOT = Path.of(System.getProperty("lodestep.repository", "."));
  private static final Path PAGE = ROOT.resolve("src/main/resources/lodestep/page");

  private long nowNs = 1;

  @Test
  void letsADeviceAskInBurstsAndThenSoManyASecond() {
    Rate rate = new Rate(() -> nowNs);
    int taken = 0;
    while (rate.take("shelf phone")) {
      taken++;
    }
    assertThat(taken).isEqualTo(Rate.BURST);
    assertThat(rate.take("another")).as("each has its own").isTrue();

    nowNs += Duration.ofSeconds(1).toNanos();
    int later = 0;
    while (rate.take("shelf phone")) {
      later++;
    }

    assertThat(later).isEqualTo(Rate.PER_SECOND);
  }

  @Test
  void carriesOutNothingTwiceAndTellsWhatCameOfIt() {
    Once once = new Once();

    assertThat(once.taken("key-0001")).isEmpty();
    once.answered("key-0001", Bench.Answer.yes("the batch begins"));

    assertThat(once.taken("key-0001")).contains(Bench.Answer.yes("the batch begins"));
    assertThat(once.taken("key-0002")).isEmpty();
  }

  @Test
  void givesASlowReaderTheNewestAndNeverWhatIsOld() {
    Newest newest = new Newest();
    List<String> written = new ArrayList<>();
    newest.show("{\"n\":1}", "{}");
    newest.writeTo(
        new OutputStream() {
          @Override
          public void write(int one) {
            throw new UnsupportedOperationException();
          }

          @Override
          public void write(byte[] bytes) {
            written.add(new String(bytes, StandardCharsets.UTF_8));
            if (written.size() == 1) {
              // While this one is being written, two looks come.
              newest.show("{\"n\":2}", "{}");
              newest.show("{\"n\":3}", "{\"b\":3}");
            } else {
              newest.close();
            }
          }
        });

    assertThat(written)
        .containsExactly(
            "event: bench\ndata: {}\n\nevent: now\ndata: {\"n\":1}\n\n",
            "event: bench\ndata: {\"b\":3}\n\nevent: now\ndata: {\"n\":3}\n\n");
  }

  @Test
  void letsAReaderGoWhoseConnectionBreaks() {
    Newest newest = new Newest();
    newest.show("{}", "{}");
    newest.writeTo(
        new OutputStream() {
          @Override
          public void write(int one) throws IOException {
            throw new IOException("gone");
          }
        });

    assertThat(newest.open()).isZero();
  }

  @Test
  void holdsNoMoreReadersThanItHasThreadsFor() {
    Newest newest = new Newest();
    newest.show("{}", "{}");
    List<Integer> refused = new ArrayList<>();
    nested(newest, Newest.READERS_MAX, refused);

    assertThat(refused).containsExactly(503);
  }

  /** Each reader, while it is being written to, opens one more. */
  private static void nested(Newest newest, int more, List<Integer> refused) {
    newest.writeTo(
        new ByteArrayOutputStream() {
          @Override
          public void flush() throws IOException {
            if (more > 0) {
              try {
                nested(newest, more - 1, refused);
              } catch (Refused full) {
                refused.add(full.status());
              }
            }
            throw new IOException("gone");
          }
        });
  }

  @Test
  void namesTheEnforcersThatTheSafetyTableHas() throws IOException {
    List<String> table = Files.readAllLines(ROOT.resolve("safety/interlocks.md"));
    for (TripCause cause : TripCause.values()) {
      assertThat(table)
          .filteredOn(line -> line.startsWith("| " + cause.code() + " |"))
          .singleElement()
          .asString()
          .contains("| " + Enforcers.of(cause) + " |");
    }
  }

  @Test
  void readsAPlanAsItWasPutTogether() {
    PlanForm form =
        new PlanForm(
            "by touch",
            List.of(
                new PlanForm.Row(
                    "wren",
                    "pair",
                    "1.5 %",
                    "alnico 2",
                    "rod",
                    "4.7 x 17.2 mm",
                    "",
                    "north",
                    "520 G",
                    "12 G",
                    "2",
                    "shelf, left")));

    assertThat(PlanForm.of("by touch", form.text())).containsExactly(form);
    assertThat(PlanForm.of("by touch", "# a remark\n" + form.text())).containsExactly(form);
    assertThat(PlanForm.of("x", "name,survives\na,5 kA/m\n")).as("a column no form has").isEmpty();
  }

  @Test
  void tellsTheSampleOfALotFromAPlan() {
    String head = "name,alloy,shape,size,pole up,target,tolerance,count,lot\n";
    String charged = "a,alnico 2,rod,4.7 x 17.2 mm,north,Full charge,,5,";

    assertThat(PlanForm.of("Q-4 sample", head + charged + "Q-4\n").get(0).isSample()).isTrue();
    assertThat(PlanForm.of("of no lot", head + charged + "\n").get(0).isSample()).isFalse();
    String dialed = "b,alnico 2,rod,4.7 x 17.2 mm,north,520 G,12 G,1,Q-4\n";
    assertThat(PlanForm.of("both", head + charged + "Q-4\n" + dialed).get(0).isSample()).isFalse();
  }

  @Test
  void refusesAnOrderThatIsNoneOrOfAnotherTime() {
    Order order = order("{\"by\": 5000, \"saw\": 7}");

    order.requireFresh(4_000, 7);
    assertThatThrownBy(() -> order.requireFresh(5_001, 7)).hasMessageContaining("too late");
    assertThatThrownBy(() -> order.requireFresh(-1, 7)).hasMessageContaining("too late");
    assertThatThrownBy(() -> order.requireFresh(4_000, 8)).hasMessageContaining("moved on");
    assertThatThrownBy(() -> order("{\"by\": 1.5}").requireFresh(0, 0))
        .hasMessageContaining("whole number");
    assertThatThrownBy(() -> order("[]")).hasMessageContaining("JSON object");
  }

  private static Order order(String json) {
    return Order.read(json.getBytes(StandardCharsets.UTF_8));
  }

  @Test
  void hasAWordForEachThatThePageAsksForAndNoneTooMany() throws IOException {
    JsonNode words = JsonMapper.builder().build().readTree(PAGE.resolve("words.en.json").toFile());
    Set<String> known = new TreeSet<>();
    words.fieldNames().forEachRemaining(known::add);
    String code = ownCode();
    Set<String> asked = new TreeSet<>();
    Pattern.compile("'([a-z]+(?:\\.[a-zA-Z -]+)*)'")
        .matcher(code)
        .results()
        .forEach(found -> asked.add(found.group(1)));
    List<String> heads =
        Pattern.compile("t\\(`([a-z.]+)\\.\\$\\{")
            .matcher(code)
            .results()
            .map(found -> found.group(1) + ".")
            .toList();

    assertThat(known)
        .allSatisfy(
            word ->
                assertThat(
                        word.startsWith("says.")
                            || asked.contains(word)
                            || heads.stream().anyMatch(word::startsWith))
                    .as(word)
                    .isTrue());
    Pattern.compile("\\bt\\('([^']+)'")
        .matcher(code)
        .results()
        .forEach(found -> assertThat(known).contains(found.group(1)));
  }

  private static String ownCode() {
    StringBuilder code = new StringBuilder();
    for (PageFile file : PageFile.ALL) {
      if (file.path().endsWith(".js") && !file.path().contains("uplot")) {
        code.append(new String(file.bytes(), StandardCharsets.UTF_8));
      }
    }
    return code.toString();
  }

  /** A name may be anything: it is shown as text, and none of the ways to run it is used. */
  @Test
  void putsNoNameIntoThePageAsMarkup() {
    assertThat(ownCode())
        .contains("textContent")
        .doesNotContainPattern(
            "innerHTML|outerHTML|insertAdjacentHTML|document\\.write|DOMParser|\\beval\\("
                + "|new Function|createContextualFragment|srcdoc");
  }

  @Test
  void carriesLessThanThreeHundredKilobytes() {
    int bytes = PageFile.ALL.stream().mapToInt(file -> file.bytes().length).sum();

    assertThat(bytes).isLessThan(300_000);
  }

  /** RFC 6266, 5 and RFC 8187, 3.2.3, from memory: the euro sign and a word with an umlaut. */
  @Test
  void tellsAFilesNameAlsoWhereAHeaderCannotHoldItsLetters() {
    assertThat(Answers.disposition("labels-Dunlin-3.pdf"))
        .isEqualTo(
            "attachment; filename=\"labels-Dunlin-3.pdf\"; filename*=UTF-8''labels-Dunlin-3.pdf");
    assertThat(Answers.disposition("\u20ac gr\u00fcn.pdf"))
        .isEqualTo(
            "attachment; filename=\"-gr-n.pdf\"; filename*=UTF-8''%E2%82%AC%20gr%C3%BCn.pdf");
  }
}
