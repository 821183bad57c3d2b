package lodestep.app;

import java.util.Queue;
import lodestep.cli.HeadWork;
import lodestep.port.LedgerEvent;

/** A person who types once so many events of a kind are on record. */
final class TypesAfter implements HeadWork.HandWatcher {

  private final Class<? extends LedgerEvent> kind;
  private final String words;
  private final Queue<String> typed;
  private int left;

  TypesAfter(Class<? extends LedgerEvent> kind, int count, String words, Queue<String> typed) {
    this.kind = kind;
    this.left = count;
    this.words = words;
    this.typed = typed;
  }

  @Override
  public void event(LedgerEvent event, double seconds) {
    if (kind.isInstance(event)) {
      left--;
      if (left == 0) {
        typed.add(words);
      }
    }
  }

  @Override
  public void now(HeadWork.HandLive live) {
    // Waits for what is on record.
  }

  @Override
  public void says(String sentence) {
    // Reads nothing.
  }
}
