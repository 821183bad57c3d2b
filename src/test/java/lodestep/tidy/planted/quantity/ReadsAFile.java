package lodestep.tidy.planted.quantity;

import java.io.File;

/** Touches the file system. */
record ReadsAFile(File file) {}
