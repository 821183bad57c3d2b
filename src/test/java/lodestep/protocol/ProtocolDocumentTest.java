package lodestep.protocol;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.lang.reflect.RecordComponent;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/**
 * Goal: {@code firmware-host/PROTOCOL.md} says what the code does. Method: every example of the
 * document is decoded and compared with the text beside it; its tables are compared with the
 * message records and {@link WireField}.
 */
class ProtocolDocumentTest {

  private static final Pattern BLOCK =
      Pattern.compile("```(example|bytes|dropped)\n(.*?)```", Pattern.DOTALL);

  private static final Pattern SECTION =
      Pattern.compile("### `([A-Za-z])` [^\n]*\n(.*?)(?=\n##)", Pattern.DOTALL);

  private static final Pattern FIELD_ROW =
      Pattern.compile("^\\| `(\\w+)` \\|[^|]*\\| *((\\S+) to (\\S+))? *\\|", Pattern.MULTILINE);

  /** Which wire field carries a record component; words have no range. */
  private static final Map<String, WireField> FIELDS =
      Map.ofEntries(
          Map.entry("sequence", WireField.SEQUENCE),
          Map.entry("bootId", WireField.BOOT_ID),
          Map.entry("clockMs", WireField.CLOCK_MS),
          Map.entry("sampleCounter", WireField.SAMPLE_COUNTER),
          Map.entry("hallCounts", WireField.HALL_COUNTS),
          Map.entry("gaugeCentiDegC", WireField.CENTI_DEG_C),
          Map.entry("coilCentiDegC", WireField.CENTI_DEG_C),
          Map.entry("bankMilliVolts", WireField.BANK_MILLI_VOLTS),
          Map.entry("bankBeforeMilliVolts", WireField.BANK_MILLI_VOLTS),
          Map.entry("bankAfterMilliVolts", WireField.BANK_MILLI_VOLTS),
          Map.entry("coilMilliAmps", WireField.COIL_MILLI_AMPS),
          Map.entry("positionMicroMetres", WireField.POSITION_MICRO_METRES),
          Map.entry("flags", WireField.FLAGS),
          Map.entry("intentNumber", WireField.INTENT_NUMBER),
          Map.entry("token", WireField.TOKEN),
          Map.entry("peakForwardMilliAmps", WireField.PEAK_MILLI_AMPS),
          Map.entry("peakReverseMilliAmps", WireField.PEAK_MILLI_AMPS),
          Map.entry("durationMicros", WireField.DURATION_MICROS),
          Map.entry("fired", WireField.YES_NO),
          Map.entry("session", WireField.SESSION),
          Map.entry("permit", WireField.YES_NO),
          Map.entry("watchdogProven", WireField.YES_NO),
          Map.entry("reason", WireField.REFUSAL_REASON),
          Map.entry("protocolVersion", WireField.VERSION),
          Map.entry("pitchNanoMetres", WireField.PITCH_NANO_METRES),
          Map.entry("stepsPerTurn", WireField.STEPS_PER_TURN),
          Map.entry("travelMicroMetres", WireField.TRAVEL_MICRO_METRES),
          Map.entry("microMetresPerSecond", WireField.MICRO_METRES_PER_SECOND),
          Map.entry("windowMillis", WireField.WINDOW_MILLIS),
          Map.entry("bankCapMilliVolts", WireField.BANK_MILLI_VOLTS_MAX),
          Map.entry("coilCentiDegCMax", WireField.CENTI_DEG_C),
          Map.entry("bankMilliVoltsMax", WireField.BANK_MILLI_VOLTS_MAX));

  private static final Map<String, Class<? extends Record>> TYPES =
      Map.ofEntries(
          Map.entry("S", HeadFrame.Status.class),
          Map.entry("P", HeadFrame.PulseReport.class),
          Map.entry("T", HeadFrame.TokenGrant.class),
          Map.entry("R", HeadFrame.Refused.class),
          Map.entry("H", HeadFrame.Hello.class),
          Map.entry("B", HeadFrame.Build.class),
          Map.entry("b", HeadRequest.Heartbeat.class),
          Map.entry("h", HeadRequest.AskHello.class),
          Map.entry("t", HeadRequest.AskToken.class),
          Map.entry("w", HeadRequest.OpenWindow.class),
          Map.entry("m", HeadRequest.MoveTo.class),
          Map.entry("p", HeadRequest.AskPulse.class));

  private static final List<String> OF_A_SESSION = List.of("b", "t", "w", "m");

  private static final String DOCUMENT = read();

  @Test
  void decodesEveryExampleToWhatTheTextBesideItSays() {
    Set<String> seen = new TreeSet<>();
    for (String block : blocks("example")) {
      List<String> rows = block.lines().toList();

      Record message = decoded(rows.get(0));

      assertThat(allSpelledOut(message)).as(rows.get(0)).isEqualTo(rows.subList(1, rows.size()));
      seen.add(rows.get(0).substring(0, 1));
    }
    assertThat(seen).as("types with an example").isEqualTo(new TreeSet<>(TYPES.keySet()));
  }

  @Test
  void writesEveryExampleAsTheDocumentDoes() {
    for (String block : blocks("example")) {
      String line = block.lines().findFirst().orElseThrow();
      Record message = decoded(line);

      byte[] written =
          message instanceof HeadFrame frame
              ? HeadLineWriter.line(frame)
              : RequestWriter.line((HostLine) message);

      assertThat(new String(written, StandardCharsets.US_ASCII)).isEqualTo(line + "\n");
    }
  }

  @Test
  void spellsTheHeartbeatByteByByte() {
    String bytes = blocks("bytes").get(0).strip();

    byte[] written = RequestWriter.line(new HostLine(4_711, new HeadRequest.Heartbeat(513, true)));

    assertThat(HexFormat.ofDelimiter(" ").withUpperCase().formatHex(written)).isEqualTo(bytes);
  }

  @Test
  void dropsEveryBadExampleForTheReasonGiven() {
    List<String> rows = blocks("dropped").get(0).lines().toList();

    assertThat(rows).hasSizeGreaterThan(5);
    for (String row : rows) {
      String line = row.substring(0, row.lastIndexOf(' ')).stripTrailing();
      LineFault fault = LineFault.valueOf(row.substring(row.lastIndexOf(' ') + 1));

      assertThat(RequestDecoder.decode(line))
          .as(line)
          .isEqualTo(new Decoded.Dropped<HostLine>(fault));
    }
  }

  @Test
  void listsEveryFieldInOrderWithItsRange() {
    Map<String, List<String>> documented = new LinkedHashMap<>();
    Matcher section = SECTION.matcher(DOCUMENT);
    while (section.find()) {
      List<String> fields = new ArrayList<>();
      Matcher row = FIELD_ROW.matcher(section.group(2));
      while (row.find()) {
        fields.add(row.group(1) + " " + Optional.ofNullable(row.group(2)).orElse("word"));
      }
      documented.put(section.group(1), fields);
    }

    Map<String, List<String>> coded = new LinkedHashMap<>();
    TYPES.forEach((type, message) -> coded.put(type, fieldsOf(type, message)));

    assertThat(documented).isEqualTo(coded);
  }

  @Test
  void listsEveryFlagWithItsBit() {
    for (HeadFlag flag : HeadFlag.values()) {
      int bit = Integer.numberOfTrailingZeros(flag.bit());

      assertThat(DOCUMENT).contains("\n| " + bit + " | `" + flag + "` | ");
    }
  }

  @Test
  void listsEveryRefusalReasonWithItsNumber() {
    for (RefusalReason reason : RefusalReason.values()) {
      assertThat(DOCUMENT).contains("\n| " + reason.code() + " | `" + reason + "` | ");
    }
  }

  @Test
  void namesVersionLongestLineAndStopByteAsTheyAre() {
    int longest = Lines.longest().stream().mapToInt(line -> line.length).max().orElseThrow();

    assertThat(DOCUMENT)
        .startsWith(
            "# The lines between host and head, version " + HeadFrame.PROTOCOL_VERSION + "\n")
        .contains("at\nmost " + HeadFrame.LINE_BYTES_MAX + " bytes with its line end")
        .contains("The longest line that exists has " + longest + ".")
        .contains("**" + HexFormat.of().toHexDigits(HeadRequest.STOP_BYTE) + "** (hexadecimal)");
  }

  private static List<String> fieldsOf(String type, Class<? extends Record> message) {
    Stream<String> session =
        OF_A_SESSION.contains(type) ? Stream.of("session 1 to 65535") : Stream.empty();
    Stream<String> own =
        Arrays.stream(message.getRecordComponents())
            .map(component -> component.getName() + " " + range(message, component));
    return Stream.concat(session, own).toList();
  }

  private static String range(Class<? extends Record> message, RecordComponent component) {
    if (component.getType() == String.class) {
      return "word";
    }
    boolean mayBeNone = message == HeadFrame.Refused.class;
    WireField field =
        mayBeNone && component.getName().equals("intentNumber")
            ? WireField.INTENT_NUMBER_OR_NONE
            : Objects.requireNonNull(FIELDS.get(component.getName()), component.getName());
    return field == WireField.FLAGS
        ? "0000 to " + HexFormat.of().withUpperCase().toHexDigits((short) field.largest())
        : field.smallest() + " to " + field.largest();
  }

  private static Record decoded(String line) {
    boolean fromHead = Character.isUpperCase(line.charAt(0));
    Decoded<? extends Object> result =
        fromHead ? HeadLineDecoder.decode(line) : RequestDecoder.decode(line);
    return result.match(
        message -> (Record) message,
        fault -> {
          throw new AssertionError(fault + ": " + line);
        });
  }

  private static List<String> allSpelledOut(Record message) {
    if (!(message instanceof HostLine line)) {
      return spelledOut(message);
    }
    List<String> spelled = new ArrayList<>(spelledOut((Record) line.request()));
    if (line.session() != HostLine.NO_SESSION) {
      spelled.add(0, "session = " + line.session());
    }
    return spelled;
  }

  private static List<String> spelledOut(Record message) {
    return Arrays.stream(message.getClass().getRecordComponents())
        .map(component -> component.getName() + " = " + value(message, component))
        .toList();
  }

  private static String value(Record message, RecordComponent component) {
    if (message instanceof HeadFrame.Status status && component.getName().equals("flags")) {
      return Arrays.stream(HeadFlag.values())
          .filter(status::has)
          .map(HeadFlag::name)
          .collect(Collectors.joining(" "));
    }
    try {
      return String.valueOf(component.getAccessor().invoke(message));
    } catch (ReflectiveOperationException e) {
      throw new LinkageError(e.getMessage(), e);
    }
  }

  private static List<String> blocks(String kind) {
    return BLOCK
        .matcher(DOCUMENT)
        .results()
        .filter(result -> result.group(1).equals(kind))
        .map(result -> result.group(2))
        .toList();
  }

  private static String read() {
    Path repository = Path.of(System.getProperty("lodestep.repository", "."));
    try {
      return Files.readString(repository.resolve("firmware-host").resolve("PROTOCOL.md"));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
