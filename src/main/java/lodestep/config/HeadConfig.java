package lodestep.config;

/** Where the head's lines come from. */
public sealed interface HeadConfig {

  /** The virtual head, inside the program; only on a virtual rig. */
  record VirtualHead() implements HeadConfig {}

  /**
   * A head on a serial line, real or the virtual head behind a pseudo-terminal.
   *
   * @param port absolute path of the line, best a stable link of the system by the device's own
   *     serial number
   * @param serialNumber the head that must answer there; empty accepts any
   */
  record SerialHead(String port, String serialNumber) implements HeadConfig {}
}
