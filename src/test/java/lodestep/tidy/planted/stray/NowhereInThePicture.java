package lodestep.tidy.planted.stray;

/** Lies in a package that the picture does not know. */
record NowhereInThePicture(int number) {}
