package lodestep.panel;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;

/** What was carried out under which key, so that nothing is carried out twice. Any thread. */
final class Once {

  /** Commands lapse after seconds; nobody sends so many in that time. */
  private static final int KEPT_MAX = 1024;

  private final Map<String, Bench.Answer> answers = new LinkedHashMap<>();

  /** Takes the key; an answer if it was taken before. */
  synchronized Optional<Bench.Answer> taken(String key) {
    Bench.Answer before = answers.get(key);
    if (before == null) {
      answers.put(key, Bench.Answer.no("it is being carried out"));
      if (answers.size() > KEPT_MAX) {
        answers.remove(answers.keySet().iterator().next());
      }
    }
    return Optional.ofNullable(before);
  }

  /** Keeps what came of it. */
  synchronized void answered(String key, Bench.Answer answer) {
    answers.replace(key, answer);
  }
}
