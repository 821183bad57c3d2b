package lodestep.app;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.SecureRandom;
import lodestep.cli.Refusal;

/** The secret by which the page's tokens are signed, beside the ledger, for its owner alone. */
final class PageKey {

  private static final int BYTES = 32;

  private PageKey() {}

  /** That of this ledger; made anew where there is none, so that every device is paired again. */
  static byte[] of(Path ledgerFile) {
    Path file = Path.of(ledgerFile + ".page-key");
    try {
      if (!Files.exists(file)) {
        byte[] fresh = new byte[BYTES];
        new SecureRandom().nextBytes(fresh);
        Files.createFile(
            file,
            PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rw-------")));
        Files.write(file, fresh, StandardOpenOption.WRITE);
        return fresh;
      }
      byte[] kept = Files.readAllBytes(file);
      if (kept.length != BYTES) {
        throw new Refusal(file + " is damaged; remove it, and pair each device again");
      }
      return kept;
    } catch (IOException | UnsupportedOperationException unwritable) {
      throw new Refusal(
          "the page's key cannot be kept in " + file + "; see that its folder can be written to");
    }
  }
}
