package lodestep.soak;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;

/**
 * Draws what happens in a run. Half of the seeds draw a swarm: each kind is there with one half, at
 * a rate of its own. The other half aim one happening at a change of state that the same seed has
 * shown without any. A quarter add a second one while the first is being recovered from.
 */
final class ScriptDraw {

  private static final long FAULTY_MS_MIN = 30_000;
  private static final double RATE_MIN = 0.02;
  private static final double RATE_MAX = 0.6;
  private static final int EACH_MAX = 4;
  private static final long LASTS_MS_MIN = 5;
  private static final long LASTS_MS_MAX = 20_000;
  private static final long DOWN_MS_MIN = 300;
  private static final int AIM_MS = 50;
  private static final long SECOND_AFTER_MS_MIN = 10;
  private static final long SECOND_AFTER_MS_MAX = 8_000;

  /** Nothing happens before the host has run its first scans. */
  private static final long FIRST_MS = 20;

  private final SoakRig rig;
  private final SplittableRandom random;
  private final List<HappeningKind> kinds;
  private final long healMs;

  ScriptDraw(SoakRig rig, SplittableRandom random) {
    this.rig = rig;
    this.random = random;
    this.kinds = rig.kinds();
    this.healMs = random.nextLong(FAULTY_MS_MIN, rig.faultyMsMax() + 1);
  }

  /** Nothing happens, for as long as in the script that will be drawn. */
  Script quiet() {
    return new Script(healMs, List.of());
  }

  /** Whether it is to be aimed, and so needs the changes of state. */
  boolean aims() {
    return random.nextBoolean();
  }

  /** Each kind with one half, at rates that differ by a factor of fifty. */
  Script swarm() {
    List<Happening> drawn = new ArrayList<>();
    for (HappeningKind kind : kinds) {
      if (random.nextBoolean()) {
        double rate = logUniform(RATE_MIN, RATE_MAX);
        for (int i = 0; i < EACH_MAX && random.nextDouble() < rate; i++) {
          drawn.add(happening(kind, random.nextLong(FIRST_MS, healMs)));
        }
      }
    }
    return compound(drawn);
  }

  /** One happening within 50 ms of a change of state; every state that was met is as likely. */
  Script aimed(List<World.StateChange> changes) {
    Map<RigState, List<World.StateChange>> byState = new EnumMap<>(RigState.class);
    for (World.StateChange change : changes) {
      byState.computeIfAbsent(change.state(), state -> new ArrayList<>()).add(change);
    }
    List<List<World.StateChange>> met = new ArrayList<>(byState.values());
    List<World.StateChange> of = met.get(random.nextInt(met.size()));
    long atMs = of.get(random.nextInt(of.size())).atMs();
    long near = atMs + random.nextInt(2 * AIM_MS + 1) - AIM_MS;
    List<Happening> drawn = new ArrayList<>();
    drawn.add(happening(kinds.get(random.nextInt(kinds.size())), Math.max(FIRST_MS, near)));
    return compound(drawn);
  }

  private Script compound(List<Happening> drawn) {
    if (random.nextInt(4) == 0 && !drawn.isEmpty()) {
      Happening first = drawn.get(random.nextInt(drawn.size()));
      long afterMs = (long) logUniform(SECOND_AFTER_MS_MIN, SECOND_AFTER_MS_MAX);
      drawn.add(happening(kinds.get(random.nextInt(kinds.size())), first.atMs() + afterMs));
    }
    return new Script(healMs, drawn);
  }

  private Happening happening(HappeningKind kind, long atMs) {
    long forMs = (long) logUniform(LASTS_MS_MIN, LASTS_MS_MAX);
    if (kind.sort() == HappeningKind.Sort.COMPUTER) {
      forMs = Math.max(forMs, DOWN_MS_MIN);
    }
    List<String> things = rig.on(kind);
    String on = things.get(random.nextInt(things.size()));
    double value = kind.hasValue() ? logUniform(kind.lowest(), kind.highest()) : 0;
    return new Happening(kind, atMs, forMs, on, value);
  }

  private double logUniform(double from, double to) {
    double drawn = from * Math.exp(random.nextDouble() * Math.log(to / from));
    return Math.min(to, Math.max(from, drawn));
  }
}
