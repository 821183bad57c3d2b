package lodestep.interlock;

import java.util.Arrays;

/** The states found so far: fingerprint, and from which other one by which choice. */
final class KnownStates {

  private long[] high = new long[1 << 16];
  private long[] low = new long[1 << 16];
  private int[] from = new int[1 << 16];
  private int[] choice = new int[1 << 16];
  private int[] slots = new int[1 << 18];
  private int size;

  KnownStates() {
    Arrays.fill(slots, -1);
  }

  int size() {
    return size;
  }

  /** The state from which this one was found first; -1 for that of power-on. */
  int from(int state) {
    return from[state];
  }

  /** The choice that led to it. */
  int choice(int state) {
    return choice[state];
  }

  /** Adds it; false if it was there. */
  boolean add(Fingerprint print, int cameFrom, int byChoice) {
    int slot = slot(print.high(), print.low());
    if (slots[slot] >= 0) {
      return false;
    }
    if (size == high.length) {
      grow();
    }
    slots[slot] = size;
    high[size] = print.high();
    low[size] = print.low();
    from[size] = cameFrom;
    choice[size] = byChoice;
    size++;
    if (size * 2 > slots.length) {
      rehash();
    }
    return true;
  }

  private int slot(long wantedHigh, long wantedLow) {
    int mask = slots.length - 1;
    int slot = (int) wantedLow & mask;
    while (slots[slot] >= 0
        && !(high[slots[slot]] == wantedHigh && low[slots[slot]] == wantedLow)) {
      slot = slot + 1 & mask;
    }
    return slot;
  }

  private void grow() {
    high = Arrays.copyOf(high, size * 2);
    low = Arrays.copyOf(low, size * 2);
    from = Arrays.copyOf(from, size * 2);
    choice = Arrays.copyOf(choice, size * 2);
  }

  private void rehash() {
    slots = new int[slots.length * 2];
    Arrays.fill(slots, -1);
    for (int state = 0; state < size; state++) {
      slots[slot(high[state], low[state])] = state;
    }
  }
}
