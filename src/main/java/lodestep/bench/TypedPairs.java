package lodestep.bench;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lodestep.ledger.EventCodec;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.MagnetHistory.Happening;
import lodestep.ledger.MagnetHistory.What;
import lodestep.measure.PairedReadings;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.port.LedgerEvent.ReadingTaken;
import lodestep.port.LedgerEvent.ReadingTyped;
import lodestep.quantity.FluxDensity;

/**
 * Readings of a hand gauge that were typed, each paired with the settled reading of the same magnet
 * in the same state. Any thread, immutable.
 *
 * <p>The state is the same when nothing was done to the magnet between the two. A reading typed
 * between a settled reading and an act by hand may have been taken before the act or after it, as
 * the act goes on record with the reading it led to: it is left out, and not guessed at.
 *
 * @param kinds in the order they first came
 */
public record TypedPairs(List<Kind> kinds) {

  /** Weaker readings tell nothing of a ratio: both gauges' zeros are in them. */
  private static final FluxDensity LEAST = FluxDensity.ofGauss(20);

  /** What a relation holds for: one nest at one stand-off and one shape with its sizes. */
  public record Of(
      String nest, long standOffMicroMetres, String shape, List<Long> sizesMicroMetres) {
    public Of {
      sizesMicroMetres = List.copyOf(sizesMicroMetres);
    }
  }

  /**
   * The pairs of one kind.
   *
   * @param named any magnet of it
   * @param leftOut typed readings that could not be paired, and why, a sentence each
   */
  public record Kind(Of of, MagnetNamed named, PairedReadings pairs, List<String> leftOut) {
    public Kind {
      leftOut = List.copyOf(leftOut);
    }
  }

  public TypedPairs {
    kinds = List.copyOf(kinds);
  }

  /** Of this record, typed by this gauge; upper and lower case do not count. */
  public static TypedPairs of(LedgerArchive archive, String gauge) {
    List<Long> magnets = new ArrayList<>();
    archive.forEachOfKind(
        EventCodec.kind(ReadingTyped.class),
        stored -> {
          ReadingTyped typed = (ReadingTyped) EventCodec.decode(stored).event();
          if (typed.gauge().equalsIgnoreCase(gauge) && !magnets.contains(typed.magnet())) {
            magnets.add(typed.magnet());
          }
        });
    Collector collector = new Collector(gauge);
    magnets.forEach(magnet -> MagnetHistory.of(archive, magnet).ifPresent(collector::take));
    return collector.found();
  }

  /** Names of the gauges whose readings were typed into this record, each once. */
  public static List<String> gauges(LedgerArchive archive) {
    List<String> names = new ArrayList<>();
    archive.forEachOfKind(
        EventCodec.kind(ReadingTyped.class),
        stored -> {
          String name = ((ReadingTyped) EventCodec.decode(stored).event()).gauge();
          if (names.stream().noneMatch(name::equalsIgnoreCase)) {
            names.add(name);
          }
        });
    return List.copyOf(names);
  }

  private static final class Collector {

    private final String gauge;
    private final Map<Of, Found> found = new LinkedHashMap<>();

    Collector(String gauge) {
      this.gauge = gauge;
    }

    void take(MagnetHistory history) {
      List<Happening> all = history.happenings();
      for (int at = 0; at < all.size(); at++) {
        if (all.get(at).what() instanceof What.Typed typed
            && typed.event().gauge().equalsIgnoreCase(gauge)) {
          pair(history, at, typed.event());
        }
      }
    }

    private void pair(MagnetHistory history, int at, ReadingTyped typed) {
      List<Happening> all = history.happenings();
      Optional<Happening> before = readingBefore(all, at);
      Optional<Happening> after = readingAfter(all, at);
      boolean acted = actFollows(all, at);
      Optional<Happening> same = acted ? Optional.empty() : before.or(() -> after);
      MagnetNamed identity = history.identity();
      Happening any = before.or(() -> after).orElse(all.get(at));
      Of of = kind(identity, any);
      Found kept =
          found.computeIfAbsent(
              of, kind -> new Found(identity, new ArrayList<>(), new ArrayList<>()));
      List<String> out = kept.leftOut();
      String what =
          identity.name() + ", " + typed.typed() + " (entry " + all.get(at).number() + ")";
      if (same.isEmpty()) {
        out.add(
            acted
                ? what + ": the magnet was worked on next; it may have been read before or after"
                : what + ": the rig has no reading of it in that state");
        return;
      }
      ReadingTaken read = ((What.Reading) same.get().what()).event();
      FluxDensity nest = FluxDensity.ofMicroTesla(read.fieldMicroTesla());
      FluxDensity hand = FluxDensity.ofMicroTesla(typed.fieldMicroTesla());
      if (nest.magnitude().compareTo(LEAST) < 0 || hand.magnitude().compareTo(LEAST) < 0) {
        out.add(what + ": too weak to tell a ratio");
      } else if (!typed.pole().isEmpty() && (nest.tesla() > 0) != (hand.tesla() > 0)) {
        out.add(what + ": its pole is not the one the rig read, " + nest.inGauss());
      } else {
        // A magnet counts once in each of its states.
        String name = identity.name() + " #" + same.get().number();
        kept.pairs().add(new PairedReadings.Pair(name, nest, hand));
      }
    }

    private static Of kind(MagnetNamed identity, Happening reading) {
      return reading.what() instanceof What.Reading read
          ? new Of(
              read.event().nest(),
              read.event().standOffMicroMetres(),
              identity.shape(),
              identity.sizesMicroMetres())
          : new Of(identity.nest(), 0, identity.shape(), identity.sizesMicroMetres());
    }

    private static boolean acts(What what) {
      return what instanceof What.Acted || what instanceof What.ByHand || what instanceof What.Trip;
    }

    /** The newest reading before it with nothing done since. */
    private static Optional<Happening> readingBefore(List<Happening> all, int at) {
      for (int back = at - 1; back >= 0 && !acts(all.get(back).what()); back--) {
        if (all.get(back).what() instanceof What.Reading) {
          return Optional.of(all.get(back));
        }
      }
      return Optional.empty();
    }

    /** The next reading after it with nothing done before that. */
    private static Optional<Happening> readingAfter(List<Happening> all, int at) {
      for (int next = at + 1; next < all.size() && !acts(all.get(next).what()); next++) {
        if (all.get(next).what() instanceof What.Reading) {
          return Optional.of(all.get(next));
        }
      }
      return Optional.empty();
    }

    /** Whether an act is the next thing that counts: a reading, a verdict or a new start is not. */
    private static boolean actFollows(List<Happening> all, int at) {
      for (int next = at + 1; next < all.size(); next++) {
        What what = all.get(next).what();
        if (acts(what)) {
          return true;
        }
        if (what instanceof What.Reading
            || what instanceof What.Verdict
            || what instanceof What.Started) {
          return false;
        }
      }
      return false;
    }

    TypedPairs found() {
      return new TypedPairs(
          found.entrySet().stream()
              .map(
                  each ->
                      new Kind(
                          each.getKey(),
                          each.getValue().named(),
                          new PairedReadings(each.getValue().pairs()),
                          each.getValue().leftOut()))
              .toList());
    }
  }

  /** What is gathered of one kind. */
  private record Found(MagnetNamed named, List<PairedReadings.Pair> pairs, List<String> leftOut) {}
}
