package lodestep.tidy.planted.sim;

import lodestep.tidy.planted.vendor.Pin;

/** Uses a vendor's library outside its adapter, and its timed write. */
record PulsesAPin(Pin pin) {
  void run() {
    pin.pulse();
  }

  void runHigh() {
    pin.pulseHigh();
  }

  Runnable later() {
    return pin::toggle;
  }
}
