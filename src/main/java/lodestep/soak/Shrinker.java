package lodestep.soak;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Makes a failing script short: parts of the list are left out for as long as the same rule is
 * still broken (delta debugging: halves, quarters, and so on down to single happenings), then each
 * is shortened. The list is shrunk and never the draws behind it. Confined to one thread.
 */
public final class Shrinker {

  /** So many plays and no more, whatever the list. */
  private static final int PLAYS_MAX = 200;

  private final SoakSettings settings;
  private final SavedRun failing;
  private int plays;

  private Shrinker(SoakSettings settings, SavedRun failing) {
    this.settings = settings;
    this.failing = failing;
  }

  /** The shortest script found that breaks the same rule; the same one if it does so no more. */
  public static SavedRun shrunk(SoakSettings settings, SavedRun failing) {
    return new Shrinker(settings, failing).shrunk();
  }

  private SavedRun shrunk() {
    List<Happening> begun =
        failing.script().happenings().stream()
            .filter(each -> each.atMs() <= failing.violation().atMs())
            .toList();
    Script all = failing.script();
    Script shortened = fails(all.with(begun)) ? all.with(begun) : all;
    Script fewest = leaveOut(shortened);
    Script last = shorten(fewest);
    return replayed(last).map(seen -> failing.with(last, seen)).orElse(failing);
  }

  private Script leaveOut(Script from) {
    Script script = from;
    int parts = 2;
    while (!script.happenings().isEmpty() && parts <= 2 * script.happenings().size()) {
      int size = Math.max(1, script.happenings().size() / parts);
      Optional<Script> smaller = withoutOnePart(script, size);
      if (smaller.isPresent()) {
        script = smaller.get();
        parts = Math.max(2, parts - 1);
      } else if (size == 1) {
        break;
      } else {
        parts *= 2;
      }
    }
    return script;
  }

  private Optional<Script> withoutOnePart(Script script, int size) {
    List<Happening> all = script.happenings();
    for (int from = 0; from < all.size(); from += size) {
      List<Happening> rest = new ArrayList<>(all.subList(0, from));
      rest.addAll(all.subList(Math.min(all.size(), from + size), all.size()));
      Script smaller = script.with(rest);
      if (fails(smaller)) {
        return Optional.of(smaller);
      }
    }
    return Optional.empty();
  }

  private Script shorten(Script from) {
    Script script = from;
    for (int index = 0; index < script.happenings().size(); index++) {
      Happening each = script.happenings().get(index);
      for (long forMs = 1; forMs < each.forMs(); forMs *= 4) {
        Script shorter = replaced(script, index, each.at(each.atMs(), forMs));
        if (fails(shorter)) {
          script = shorter;
          break;
        }
      }
    }
    return script;
  }

  private static Script replaced(Script script, int index, Happening by) {
    List<Happening> changed = new ArrayList<>(script.happenings());
    changed.set(index, by);
    return script.with(changed);
  }

  private boolean fails(Script script) {
    return replayed(script).isPresent();
  }

  /** The violation of the same rule, if this script still leads to it. */
  private Optional<Violation> replayed(Script script) {
    if (plays >= PLAYS_MAX) {
      return Optional.empty();
    }
    plays++;
    return SoakRun.of(settings, failing.seed(), script, failing.planted())
        .violation()
        .filter(seen -> seen.rule().equals(failing.violation().rule()));
  }
}
