package lodestep.voice;

import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lodestep.bench.Lots;
import lodestep.bench.MagnetAsked;
import lodestep.ledger.EventCodec;
import lodestep.paper.Entered;
import lodestep.paper.Papers;
import lodestep.paper.Things;
import lodestep.port.LedgerEvent;
import lodestep.port.StockEvent.BuildDescribed;
import lodestep.port.StockEvent.BuildNoted;
import lodestep.port.StockEvent.CertificateIssued;
import lodestep.quantity.FluxDensity;

/**
 * A note of what was made, as a person writes it, judged before it goes on record. Every refusal is
 * an {@link IllegalArgumentException} with one sentence that names the field. Pure.
 */
public final class NoteAsked {

  private static final int LEVELS_MAX = 24;

  private NoteAsked() {}

  /**
   * What is written of it, each may be empty where nothing is said.
   *
   * @param levels of each position, with semicolons between
   * @param liked who liked it, {@code said} what else there is to say
   */
  public record Written(
      String day,
      String name,
      String position,
      String levels,
      String tolerance,
      String liked,
      String said) {}

  /** What on record it belongs to; empty and 0 for nothing. */
  public record Linked(String set, long pickup, long certificate) {
    /** Nothing. */
    public static final Linked NOTHING = new Linked("", 0, 0);

    /**
     * What is named, which must be there.
     *
     * @param sign before a field's word in a refusal
     * @param pickup a name; empty for none
     */
    public static Linked of(
        Things things, String sign, String set, String pickup, long certificate) {
      String dialed = set.strip();
      if (!dialed.isEmpty() && !(Papers.found(things, dialed) instanceof Things.Thing.OfSet)) {
        throw new IllegalArgumentException(sign + "set: '" + dialed + "' is no set on record");
      }
      long built =
          pickup.isBlank()
              ? 0
              : things
                  .pickup(pickup)
                  .orElseThrow(
                      () ->
                          new IllegalArgumentException(
                              sign + "pickup: no '" + pickup + "' is on record"))
                  .number();
      if (certificate != 0
          && things
              .entry(certificate)
              .filter(stored -> EventCodec.decode(stored).event() instanceof CertificateIssued)
              .isEmpty()) {
        throw new IllegalArgumentException(
            sign + "certificate: entry " + certificate + " is no certificate");
      }
      return new Linked(dialed, built, certificate);
    }
  }

  /** A note, and how the pickup is built where that was said. */
  public record Made(BuildNoted note, Optional<BuildDescribed> described) {
    /** In the order in which they go on record. */
    public List<LedgerEvent> events() {
      List<LedgerEvent> events = new ArrayList<>(described.stream().toList());
      events.add(note);
      return events;
    }
  }

  /** The note, if all of it can be read. */
  public static Made made(PickupAsked asked, PickupWords words, Written written, Linked linked) {
    String sign = asked.sign();
    Entered entered = new Entered(sign);
    if (written.name().isBlank()) {
      throw new IllegalArgumentException(sign + "name: what was made has a name");
    }
    String day = day(sign, written.day());
    String alloy = words.get(Said.ALLOY);
    PickupAsked.said(sign + "alloy", () -> MagnetAsked.alloy(Lots.of(asked.rig()), alloy));
    PickupAsked.said(
        sign + "size", () -> MagnetAsked.shape(words.get(Said.SHAPE), words.get(Said.SIZE)));
    BuildNoted note =
        new BuildNoted(
            day,
            entered.line("name", written.name()),
            entered.line("position", written.position()),
            alloy,
            words.get(Said.SHAPE),
            words.get(Said.SIZE),
            levels(sign, written.levels()),
            tolerance(sign, written.tolerance()),
            asked.henries(words).map(henry -> Math.round(1e6 * henry)).orElse(0L),
            entered.line("set", linked.set()),
            linked.pickup(),
            linked.certificate(),
            entered.line("liked by", written.liked()),
            entered.line("said", written.said()));
    BuildDescribed how = words.describing(note);
    boolean says = !how.equals(new PickupWords(Map.of()).describing(note));
    if (says) {
      words.said().forEach((field, text) -> entered.line(field.word(), text));
      asked.require(words);
    }
    return new Made(note, says ? Optional.of(how) : Optional.empty());
  }

  private static String day(String sign, String day) {
    try {
      return LocalDate.parse(day.strip()).toString();
    } catch (DateTimeParseException wrong) {
      throw new IllegalArgumentException(
          sign + "day: a day is written like 2026-05-01, not '" + day + "'", wrong);
    }
  }

  private static long tolerance(String sign, String text) {
    if (text.isBlank()) {
      return 0;
    }
    long half = PickupAsked.said(sign + "tolerance", () -> FluxDensity.parse(text)).microTesla();
    if (half <= 0) {
      throw new IllegalArgumentException(sign + "tolerance: a half width above zero, not " + text);
    }
    return half;
  }

  private static List<Long> levels(String sign, String text) {
    List<Long> levels =
        Arrays.stream(text.split(";", -1))
            .map(
                each ->
                    PickupAsked.said(sign + "levels", () -> FluxDensity.parse(each)).microTesla())
            .toList();
    if (levels.size() > LEVELS_MAX) {
      throw new IllegalArgumentException(sign + "levels: more than " + LEVELS_MAX);
    }
    return levels;
  }
}
