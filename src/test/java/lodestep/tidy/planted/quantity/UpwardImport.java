package lodestep.tidy.planted.quantity;

import lodestep.tidy.planted.dial.CycleBack;

/** Imports a layer above its own. */
record UpwardImport(CycleBack above) {}
