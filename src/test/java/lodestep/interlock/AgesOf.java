package lodestep.interlock;

import java.lang.invoke.LambdaConversionException;
import java.lang.invoke.LambdaMetafactory;
import java.lang.invoke.MethodHandle;
import java.lang.invoke.MethodHandleProxies;
import java.lang.invoke.MethodHandles;
import java.lang.invoke.MethodType;
import java.lang.reflect.RecordComponent;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.function.Supplier;
import lodestep.device.JigMove;
import lodestep.device.PulsePlan;
import lodestep.device.PulseState;
import lodestep.device.StrokeState;

/**
 * What the interlocks remember, with times as ages in scans, and an age beyond the longest limit it
 * is compared with as that limit and one more: what is older than old decides nothing. All that the
 * interlocks keep are records, so that a new one is described without being named here; its ages
 * count up to {@link #ANY_AGE} until its limit is.
 */
final class AgesOf {

  /** Longer than any limit, in milliseconds. */
  private static final long ANY_AGE = 2_500;

  /** Stands for the limit of a hold without a pulse, which is the rig's. */
  private static final long HELD = -1;

  /** The limit that an age is compared with, in milliseconds, by what holds its beginning. */
  private static final Map<String, Long> OLD =
      Map.ofEntries(
          Map.entry("LidWatch.aSinceNs", 50L),
          Map.entry("LidWatch.bSinceNs", 50L),
          Map.entry("LidWatch.seenOpenAtNs", 0L),
          Map.entry("LidWatch.disagree", 200L),
          Map.entry("DriveTimes.fillSinceNs", 30L),
          Map.entry("DriveTimes.holdSinceNs", HELD),
          Map.entry("DriveTimes.relaysSinceNs", 50L),
          Map.entry("DriveTimes.fireSinceNs", HELD),
          Map.entry("DriveTimes.jigSinceNs", 100L),
          Map.entry("HeadWatch.lastAtNs", 150L),
          Map.entry("HeadWatch.disagree", 250L),
          Map.entry("HeadWatch.chainOpen", 250L),
          Map.entry("IdentityWatch.sinceNs", 2_000L),
          Map.entry("LineWatch.atNs", 1_000L),
          Map.entry("RelayWatch.mirrors", 100L),
          Map.entry("RelayWatch.readBack", 10L),
          Map.entry("RisingWatch.mark", 100L),
          Map.entry("PulseFallWatch.from", ExploredRig.FALL_MS),
          Map.entry("BleedWatch.from", 2 * ExploredRig.FALL_MS),
          Map.entry("FillWatch.mark", 200L),
          Map.entry("ProofWatch.filled", 50L),
          Map.entry("ProofWatch.held", 150L),
          Map.entry("ProofWatch.bled", 0L),
          Map.entry("JigWatch.wrong", 50L),
          Map.entry("JigWatch.fits", 200L),
          Map.entry("JigMove.sinceNs", 3_000L));

  /** The longest that a pulse waits for anything, in milliseconds. */
  private static final long LONGEST_WAIT = 200;

  /** Counts from which on more no longer matters. */
  private static final Map<String, Integer> ENOUGH =
      Map.of("SensorWatch.offScale", SensorWatch.OFF_SCALE_LINES, "Repeats.count", 10);

  /**
   * Only compared with what comes next, and made from what came last; and a clock that no deviation
   * touches, nor anything else.
   */
  private static final Set<String> RELATIVE =
      Set.of("Watches.clock", "HeadWatch.lastSequence", "LineWatch.counted", "Repeats.value");

  /** Figures that are no times. */
  private static final Set<String> FIGURES =
      Set.of("JigWatch.pathMicroMetres", "SwitchedWatch.tooLongMicros");

  /** Places of the jig's carriage. */
  private static final Set<String> PLACES =
      Set.of(
          "JigWatch.positionMicroMetres",
          "JigWatch.restMicroMetres",
          "JigWatch.leftAtMicroMetres",
          "JigMove.lastMicroMetres");

  /** What stays the same while it is explored. */
  private static final Set<String> ALWAYS =
      Set.of("JigMove.jig", "JigMove.sentMicroMetres", "JigMove.lowestMicroMetres", "Warmth.atNs");

  private static final ClassValue<Part[]> PARTS =
      new ClassValue<>() {
        @Override
        protected Part[] computeValue(Class<?> record) {
          return Arrays.stream(record.getRecordComponents())
              .map(component -> Part.of(record, component))
              .filter(part -> !RELATIVE.contains(part.own()) && !ALWAYS.contains(part.own()))
              .toArray(Part[]::new);
        }
      };

  /**
   * One component of a record.
   *
   * @param old age in milliseconds beyond which it no longer matters
   * @param enough figure from which on more no longer matters
   * @param figure whether it is no time
   * @param place whether it is a place of the carriage
   * @param boot whether it is the number of a head's run
   */
  private record Part(
      Function<Record, Object> accessor,
      String own,
      long old,
      int enough,
      boolean figure,
      boolean place,
      boolean boot) {

    static Part of(Class<?> record, RecordComponent component) {
      String own = record.getSimpleName() + "." + component.getName();
      return new Part(
          accessor(record, component),
          own,
          OLD.getOrDefault(own, ANY_AGE),
          ENOUGH.getOrDefault(own, Integer.MAX_VALUE),
          FIGURES.contains(own),
          PLACES.contains(own),
          own.endsWith(".bootId") || own.endsWith(".recorded"));
    }

    /** Asked a hundred times a step: a method made for it takes a third of what reflection does. */
    @SuppressWarnings("unchecked") // by the types that are handed to the factory
    private static Function<Record, Object> accessor(Class<?> record, RecordComponent component) {
      try {
        MethodHandles.Lookup lookup = MethodHandles.privateLookupIn(record, MethodHandles.lookup());
        MethodHandle get = lookup.unreflect(component.getAccessor());
        MethodHandle made =
            LambdaMetafactory.metafactory(
                    lookup,
                    "apply",
                    MethodType.methodType(Function.class),
                    MethodType.methodType(Object.class, Object.class),
                    get,
                    get.type().wrap())
                .getTarget();
        return (Function<Record, Object>)
            MethodHandleProxies.asInterfaceInstance(
                    Supplier.class, made.asType(MethodType.methodType(Object.class)))
                .get();
      } catch (IllegalAccessException | LambdaConversionException e) {
        throw new IllegalStateException("cannot read " + component, e);
      }
    }

    Object of(Record record) {
      return accessor.apply(record);
    }
  }

  private final long nowNs;
  private final ExploredRig rig;
  private final int bootId;
  private final int fromMicroMetres;
  private final Fingerprint to;

  /**
   * For one description.
   *
   * @param bootId the head's present run
   * @param fromMicroMetres the place from which the jig's places are told
   */
  AgesOf(long nowNs, ExploredRig rig, int bootId, int fromMicroMetres, Fingerprint to) {
    this.nowNs = nowNs;
    this.rig = rig;
    this.bootId = bootId;
    this.fromMicroMetres = fromMicroMetres;
    this.to = to;
  }

  void put(InterlockState state) {
    put(state.drive, ANY_AGE);
    put(state.watches, ANY_AGE);
    to.put(state.latch.trip().isPresent()).put(state.latch.turn().ordinal());
    to.put(age(state.latch.sinceNs(), 50));
  }

  /**
   * A way of the jig. The place asked for last is told as it is if it is home or the place aimed
   * at; all others come from where the carriage was.
   *
   * @param stroke whether its lowest place goes on record
   */
  void put(JigMove move, boolean stroke) {
    put(move, ANY_AGE);
    int sent = move.sentMicroMetres();
    boolean fixed = sent <= 0 || move.targetsMicroMetres().contains(sent);
    to.put(fixed).put(fixed ? sent : sent - fromMicroMetres).put(move.begun());
    to.put(stroke && move.begun() ? move.lowestMicroMetres() - fromMicroMetres : 0);
  }

  /** A stroke under way. */
  void put(StrokeState act) {
    to.put(act.getClass().getName().hashCode());
    if (act instanceof StrokeState.Moving moving) {
      put(moving.move(), true);
    } else if (act instanceof StrokeState.AwaitIntent waiting) {
      to.put(age(waiting.sinceNs(), LONGEST_WAIT));
    }
  }

  /** A pulse under way: which of its states it is in, and for how long. */
  void put(PulseState act) {
    to.put(act.getClass().getName().hashCode());
    for (Part part : PARTS.get(act.getClass())) {
      Object value = part.of((Record) act);
      if (value instanceof PulsePlan plan) {
        to.put(plan.preparing().highBits()).put(plan.relays().highBits());
      } else {
        // A time of nought says that it has not come yet.
        put(value instanceof Long since && since == 0 ? -1 : value, part, LONGEST_WAIT);
      }
    }
  }

  private void put(Record record, long old) {
    if (dead(record)) {
      to.put(-1);
      return;
    }
    boolean timer = record instanceof Persisting || record instanceof Mark;
    for (Part part : PARTS.get(record.getClass())) {
      put(part.of(record), part, timer ? old : part.old());
    }
  }

  /** Whether its times have no meaning. */
  private static boolean dead(Record record) {
    return (record instanceof Persisting persisting && persisting.bits() == 0)
        || (record instanceof Mark mark && !mark.isMade());
  }

  private void put(Object value, Part part, long old) {
    if (value instanceof Record inner) {
      put(inner, old);
    } else if (value instanceof Long since) {
      to.put(part.figure() ? since : age(since, old));
    } else if (value instanceof Integer place && part.place()) {
      to.put(place == Integer.MIN_VALUE ? place : place - fromMicroMetres);
    } else if (value instanceof Integer figure) {
      to.put(part.boot() ? boot(figure) : Math.min(figure, part.enough()));
    } else if (value instanceof Boolean fact) {
      to.put(fact);
    } else if (value instanceof Enum<?> word) {
      to.put(word.ordinal());
    } else if (value instanceof Double figure) {
      to.put(Double.doubleToLongBits(figure));
    } else if (value instanceof List<?> all) {
      to.put(all.size());
      all.forEach(one -> put(one, part, old));
    } else if (value instanceof Optional<?> perhaps
        && perhaps.orElse(null) instanceof SwitchedFigures.Between between) {
      put(between, old);
    } else if (value instanceof Optional<?> perhaps) {
      // A hello: all that are explored are alike.
      to.put(perhaps.isPresent());
    } else {
      throw new IllegalStateException("cannot describe " + part.own() + ": " + value);
    }
  }

  private int boot(int boot) {
    return boot < 0 ? 0 : boot == bootId ? 1 : 2;
  }

  private long age(long sinceNs, long old) {
    long limitNs = old == HELD ? rig.limits().bankHeldNs() : old * ExploredRig.MS;
    return Math.min((nowNs - sinceNs) / rig.scanNs(), limitNs / rig.scanNs() + 1);
  }
}
