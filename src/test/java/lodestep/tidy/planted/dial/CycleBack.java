package lodestep.tidy.planted.dial;

import lodestep.tidy.planted.quantity.CycleStart;

/** Imports the layer that imports this one. */
public record CycleBack(CycleStart below) {}
