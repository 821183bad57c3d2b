package lodestep.panel;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.http.Context;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lodestep.panel.Bench.Answer;
import lodestep.paper.BuildNotes;
import lodestep.paper.Certificate;
import lodestep.paper.Papers;
import lodestep.port.LedgerException;
import lodestep.quantity.FluxDensity;
import lodestep.voice.CoilAnswer;
import lodestep.voice.CommonSizes;
import lodestep.voice.InsteadAnswer;
import lodestep.voice.LevelPlan;
import lodestep.voice.NoteAsked;
import lodestep.voice.NotesIn;
import lodestep.voice.PickupAsked;
import lodestep.voice.PickupWords;
import lodestep.voice.ReachedAnswer;
import lodestep.voice.Said;
import lodestep.voice.StringsAnswer;
import lodestep.voice.SustainAnswer;
import lodestep.voice.VoicedPickup;

/**
 * Choosing a level from a wanted voice, and back: the answers of the commands, by their code. Any
 * thread.
 */
final class VoiceApi {

  private static final int TEXT_MAX = 200;

  /** What is left of a request when it is written as JSON. */
  private static final int CSV_MAX = 60_000;

  private static final String CSV = "text/csv; charset=utf-8";

  /** Shorter than the page's own patience, so that the page hears why. */
  private static final long TURN_MS = 40_000;

  private final InTurn turn = new InTurn(TURN_MS);

  private final Shelf shelf;
  private final Bench bench;
  private final Commands commands;

  VoiceApi(Shelf shelf, Bench bench, Commands commands) {
    this.shelf = shelf;
    this.bench = bench;
    this.commands = commands;
  }

  List<Route> routes() {
    return List.of(
        Api.get("/voice", (context, who) -> Answers.node(context, offered())),
        Api.get("/voice/strings", (context, who) -> said(context, () -> strings(context))),
        Api.get("/voice/sustain", (context, who) -> said(context, () -> sustain(context))),
        Api.get("/voice/instead", (context, who) -> said(context, () -> instead(context))),
        Api.get("/voice/coil", (context, who) -> said(context, () -> coil(context))),
        Api.get("/voice/plan", (context, who) -> said(context, () -> plan(context))),
        Api.get("/voice/reached", (context, who) -> said(context, () -> reached(context))),
        Api.get("/voice/notes", (context, who) -> Answers.node(context, notes())),
        Api.get("/voice/notes/csv", (context, who) -> csv(context)),
        commands.route("/build-notes", this::note),
        commands.route("/build-notes/file", this::notesIn));
  }

  private PickupAsked asked() {
    return new PickupAsked(bench.rig(), "");
  }

  private void said(Context context, Supplier<ObjectNode> answer) {
    try {
      Answers.node(context, turn.of(answer));
    } catch (IllegalArgumentException refused) {
      throw new Refused(400, "not understood", String.valueOf(refused.getMessage()));
    }
  }

  private static String text(Context context, String field) {
    String written = Optional.ofNullable(context.queryParam(field)).orElse("").strip();
    if (written.length() > TEXT_MAX) {
      throw new Refused(
          400, "not understood", field + ": a text of at most " + TEXT_MAX + " characters");
    }
    return written;
  }

  private static PickupWords words(Context context) {
    return PickupWords.of(field -> text(context, VoiceJson.name(field)));
  }

  private BuildNotes onRecord() {
    return shelf.read(things -> things.notes());
  }

  /** Levels that a person may take from the answer. */
  private static ObjectNode taken(ObjectNode node, Stream<FluxDensity> levels) {
    ArrayNode all = node.putArray("levels");
    levels.forEach(level -> all.add(level.inGauss()));
    return node;
  }

  /** What was asked about comes first. */
  private static void askedFirst(ArrayNode levels, String words) {
    if (levels.valueStream().map(JsonNode::asText).noneMatch(words::equals)) {
      levels.insert(0, words);
    }
  }

  private ObjectNode withPast(ObjectNode node, VoicedPickup pickup, FluxDensity level) {
    boolean bar = pickup.kind().shape().kind().equals("bar");
    node.put("positions", bar ? 1 : pickup.set().tuned().size());
    VoiceJson.notes(node.putArray("past"), onRecord().nearest(pickup.like(level)));
    return node;
  }

  /** What there is to choose from, and what stands for what is left out. */
  private ObjectNode offered() {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    ObjectNode usual = node.putObject("usual");
    for (Said field : Said.values()) {
      usual.put(VoiceJson.name(field), field.usual());
    }
    ArrayNode sizes = node.putArray("sizes");
    for (CommonSizes.Kind kind : CommonSizes.all()) {
      ObjectNode each = sizes.addObject();
      each.put("field", VoiceJson.name(kind.field()));
      each.put("shape", kind.shape());
      kind.sizes().forEach(each.putArray("sizes")::add);
    }
    bench.alloys().forEach(node.putArray("alloys")::add);
    return node;
  }

  private ObjectNode strings(Context context) {
    VoicedPickup pickup = asked().pickup(words(context));
    StringsAnswer answer = StringsAnswer.of(pickup, pickup.levels("", text(context, "level")));
    Stream<FluxDensity> levels = answer.sweep().stream().map(StringsAnswer.Step::level);
    ObjectNode node = taken(VoiceJson.of(answer.told()), levels);
    askedFirst(node.withArray("levels"), answer.levels().words(pickup.set()));
    return withPast(node, pickup, answer.dialed());
  }

  private ObjectNode sustain(Context context) {
    PickupWords words = words(context);
    VoicedPickup pickup = asked().pickup(words);
    FluxDensity level = pickup.level("", text(context, "level"));
    SustainAnswer answer =
        SustainAnswer.of(
            pickup, level, asked().others(words, pickup.kind()), asked().henries(words));
    Stream<FluxDensity> levels =
        answer.tries().stream()
            .filter(one -> one.what().equals(SustainAnswer.LESS))
            .map(SustainAnswer.Try::level);
    return withPast(taken(VoiceJson.of(answer.told()), levels), pickup, level);
  }

  private ObjectNode instead(Context context) {
    PickupWords words = words(context);
    VoicedPickup own = asked().pickup(words);
    String by = text(context, "by");
    if (by.isEmpty()) {
      throw new IllegalArgumentException("by: say which alloy is to be taken in its place");
    }
    InsteadAnswer answer =
        InsteadAnswer.of(
            "", own, own.level("", text(context, "level")), own.with(asked().kind(words, by)));
    ObjectNode node = taken(VoiceJson.of(answer.told()), Stream.of(answer.takes()));
    return withPast(node, answer.by(), answer.takes());
  }

  private ObjectNode coil(Context context) {
    return VoiceJson.of(CoilAnswer.of(asked(), words(context)).told());
  }

  private ObjectNode plan(Context context) {
    LevelPlan plan =
        LevelPlan.of(
            asked(),
            words(context),
            new LevelPlan.Asked(
                text(context, "set"),
                text(context, "levels"),
                text(context, "tolerance"),
                text(context, "spread"),
                Optional.of(text(context, "reverse"))));
    return VoiceJson.of(plan);
  }

  /** Poles and strings as they are asked; else as the set's own note has them; else the usual. */
  private ObjectNode reached(Context context) {
    String name = text(context, "name");
    List<Certificate.Level> levels =
        shelf.read(things -> things.levels(Papers.magnets(Papers.found(things, name))));
    Optional<BuildNotes.Note> own = onRecord().ofSet(name);
    PickupWords asked = words(context);
    PickupWords words = own.map(note -> asked.or(PickupWords.of(note))).orElse(asked);
    ObjectNode node = VoiceJson.of(ReachedAnswer.of(asked(), words, name, levels).told());
    own.ifPresent(note -> node.put("by", note.event().name()));
    node.put("distance", words.get(Said.DISTANCE));
    node.put("strings", words.get(Said.STRINGS));
    return node;
  }

  private ArrayNode notes() {
    List<BuildNotes.Note> newest = new ArrayList<>(onRecord().notes());
    Collections.reverse(newest);
    ArrayNode node = JsonNodeFactory.instance.arrayNode();
    VoiceJson.notes(node, newest.subList(0, Math.min(VoiceJson.NOTES_MAX, newest.size())));
    return node;
  }

  private void csv(Context context) {
    byte[] bytes = shelf.csv(onRecord()).getBytes(StandardCharsets.UTF_8);
    Answers.file(context, "build notes.csv", CSV, bytes);
  }

  private Answer note(Order order) {
    try {
      NoteAsked.Linked linked =
          shelf.read(
              things ->
                  NoteAsked.Linked.of(
                      things,
                      "",
                      order.text("set"),
                      order.text("pickup"),
                      order.count("certificate")));
      NoteAsked.Made made =
          NoteAsked.made(
              asked(),
              PickupWords.of(field -> order.text(VoiceJson.name(field))),
              new NoteAsked.Written(
                  order.text("day"),
                  order.text("name"),
                  order.text("position"),
                  order.text("levels"),
                  order.text("tolerance"),
                  order.text("liked"),
                  order.text("said")),
              linked,
              NoteAsked.Judged.here(shelf.latestDay()));
      long entry = shelf.keep(made.events());
      return Answer.kept(
          String.format(Locale.ROOT, "%s is noted, entry %d", made.note().name(), entry), entry);
    } catch (IllegalArgumentException refused) {
      return Answer.no(String.valueOf(refused.getMessage()));
    } catch (LedgerException unwritten) {
      return Answer.no(unwritten.sentence());
    }
  }

  /** A file of notes, whole or not at all. */
  private Answer notesIn(Order order) {
    String file = order.text("name");
    String csv = order.text("csv", CSV_MAX);
    try {
      return turn.of(() -> taken(file, csv));
    } catch (IllegalArgumentException refused) {
      return Answer.no(String.valueOf(refused.getMessage()));
    } catch (LedgerException unwritten) {
      return Answer.no(unwritten.sentence());
    }
  }

  private Answer taken(String file, String csv) {
    List<NoteAsked.Made> read = shelf.notes(csv);
    NotesIn in = shelf.read(things -> NotesIn.of(read, things.notes(), Optional.of(things)));
    List<String> said = in.sentences();
    String whole =
        Stream.concat(Stream.of(said.get(0) + " from " + file), said.stream().skip(1))
            .collect(Collectors.joining(". "));
    return in.events().isEmpty() ? Answer.yes(whole) : Answer.kept(whole, shelf.keep(in.events()));
  }
}
