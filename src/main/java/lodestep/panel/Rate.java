package lodestep.panel;

import java.util.LinkedHashMap;
import java.util.Map;
import lodestep.port.MonotonicClock;

/** How many requests one device may make: so many at once, and so many a second. Any thread. */
final class Rate {

  /** A page asks for a dozen things as it opens, and people are slow. */
  static final int BURST = 60;

  static final int PER_SECOND = 30;

  /** More devices than any bench has; the one that asked longest ago is forgotten. */
  private static final int DEVICES_MAX = 256;

  private record Left(double count, long atNs) {}

  private final MonotonicClock clock;
  private final int burst;
  private final int perSecond;
  private final Map<String, Left> devices = new LinkedHashMap<>(16, 0.75f, true);

  Rate(MonotonicClock clock) {
    this(clock, BURST, PER_SECOND);
  }

  Rate(MonotonicClock clock, int burst, int perSecond) {
    this.clock = clock;
    this.burst = burst;
    this.perSecond = perSecond;
  }

  /** Whether this device may make one more request now. */
  synchronized boolean take(String device) {
    long nowNs = clock.nowNs();
    Left before = devices.getOrDefault(device, new Left(burst, nowNs));
    double count = Math.min(burst, before.count() + (nowNs - before.atNs()) * 1e-9 * perSecond);
    boolean may = count >= 1;
    devices.put(device, new Left(may ? count - 1 : count, nowNs));
    if (devices.size() > DEVICES_MAX) {
      devices.remove(devices.keySet().iterator().next());
    }
    return may;
  }
}
