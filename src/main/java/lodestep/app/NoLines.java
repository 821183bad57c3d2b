package lodestep.app;

import lodestep.port.Contacts;
import lodestep.port.Lines;
import lodestep.port.Outputs;

/** The lines of a head alone: there is no contact and nothing to drive. */
final class NoLines implements Lines {

  @Override
  public Contacts read(long nowNs) {
    return new Contacts(0, nowNs);
  }

  @Override
  public Outputs drive(Outputs outputs) {
    return Outputs.ALL_LOW;
  }

  @Override
  public void close() {
    // No line was opened.
  }
}
