package lodestep.interlock;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Consumer;

/**
 * Goes breadth-first through everything that a machine can come to: every choice in every state,
 * each state once. States are known again by a fingerprint of 128 bits, so that millions fit into
 * memory; that two of a million states share one has a chance of less than one in 10<sup>26</sup>.
 *
 * @param <S> a state of the machine
 */
final class Explorer<S> {

  /** What is explored. */
  interface Machine<S> {

    /** The state from which all begins. */
    S powerOn();

    /** How many choices there are in every state. */
    int choices();

    /** What follows when this is chosen; the same for the same two, always. */
    Step<S> step(S state, int choice);

    /** Makes what matters of a state known; two that lead to the same must say the same. */
    void describe(S state, Fingerprint to);

    /** The choice in words. */
    String words(int choice);
  }

  /**
   * One step.
   *
   * @param broken the rule that it breaks, in words
   */
  record Step<S>(S next, Optional<String> broken) {}

  /**
   * What was found.
   *
   * @param broken the rule that can be broken; empty if none can
   * @param path the shortest way to break it, a choice in words for each scan
   */
  record Found(int states, long steps, Optional<String> broken, List<String> path) {

    String words() {
      String counts = String.format(Locale.ROOT, "%,d states, %,d steps", states, steps);
      return broken
          .map(rule -> counts + "; broken: " + rule + "\n  " + String.join("\n  ", path))
          .orElse(counts + ", no rule broken");
    }
  }

  private final Machine<S> machine;
  private final KnownStates known = new KnownStates();
  private final ArrayDeque<S> waiting = new ArrayDeque<>();

  Explorer(Machine<S> machine) {
    this.machine = machine;
  }

  /** Explores all there is, or up to the first rule broken. */
  Found explore() {
    return explore(state -> {});
  }

  /**
   * The same.
   *
   * @param each is shown every state once
   */
  Found explore(Consumer<S> each) {
    add(machine.powerOn(), -1, 0);
    each.accept(machine.powerOn());
    int at = 0;
    long steps = 0;
    while (!waiting.isEmpty()) {
      S state = waiting.remove();
      for (int choice = 0; choice < machine.choices(); choice++) {
        steps++;
        Step<S> step = machine.step(state, choice);
        if (step.broken().isPresent()) {
          return new Found(known.size(), steps, step.broken(), path(at, choice));
        }
        if (add(step.next(), at, choice)) {
          each.accept(step.next());
        }
      }
      at++;
    }
    return new Found(known.size(), steps, Optional.empty(), List.of());
  }

  private boolean add(S state, int from, int choice) {
    Fingerprint print = new Fingerprint();
    machine.describe(state, print);
    boolean fresh = known.add(print, from, choice);
    if (fresh) {
      waiting.add(state);
    }
    return fresh;
  }

  private List<String> path(int at, int last) {
    List<String> words = new ArrayList<>();
    words.add(machine.words(last));
    for (int state = at; known.from(state) >= 0; state = known.from(state)) {
      words.add(machine.words(known.choice(state)));
    }
    Collections.reverse(words);
    return words;
  }
}
