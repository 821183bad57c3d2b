package lodestep.interlock;

/** 128 bits of all that was put in, in this order. */
final class Fingerprint {

  private long high = 0x243F6A8885A308D3L;
  private long low = 0x13198A2E03707344L;

  /** Puts one figure in. The mixing is that of MurmurHash3's finaliser, twice with other seeds. */
  Fingerprint put(long figure) {
    high = mixed(high ^ figure) + 0x9E3779B97F4A7C15L;
    low = mixed(Long.rotateLeft(low, 23) + figure * 0xC2B2AE3D27D4EB4FL);
    return this;
  }

  Fingerprint put(boolean fact) {
    return put(fact ? 1 : 0);
  }

  long high() {
    return high;
  }

  long low() {
    return low;
  }

  private static long mixed(long figure) {
    long bits = (figure ^ figure >>> 33) * 0xFF51AFD7ED558CCDL;
    bits = (bits ^ bits >>> 33) * 0xC4CEB9FE1A85EC53L;
    return bits ^ bits >>> 33;
  }
}
