package lodestep.adapter.serial;

import com.fazecast.jSerialComm.SerialPort;
import com.fazecast.jSerialComm.SerialPortInvalidPortException;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFileAttributes;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.locks.LockSupport;
import java.util.function.Function;

/**
 * One serial port from its opening to its loss. {@link #read} and {@link #close} belong to the
 * reader thread, {@link #write} to the writer thread.
 */
final class OpenPort {

  private static final int BAUD = 115_200;
  private static final int DATA_BITS = 8;

  /** The library's shortest: it counts in steps of 100 ms on Linux. Nothing relies on it. */
  private static final int READ_WAIT_MS = 100;

  /**
   * How long the wire must be quiet for the backlog to count as drained, and for how many looks.
   */
  private static final long QUIET_NS = 2_000_000L;

  private static final int DRAIN_LOOKS_MAX = 100;

  // Numbers of the system's errors, errno.h of Linux. The library itself gives "no such file" for
  // a port that this program has open already.
  private static final int ERROR_NO_SUCH_FILE = 2;
  private static final int ERROR_AGAIN = 11;
  private static final int ERROR_PERMISSION = 13;
  private static final int ERROR_BUSY = 16;

  /** Groups that own everything else too; nobody should be told to join them. */
  private static final Set<String> GROUPS_NOT_TO_JOIN = Set.of("root", "wheel");

  private final SerialPort port;

  private OpenPort(SerialPort port) {
    this.port = port;
  }

  /** Outcome of a try to open. */
  sealed interface Opening {
    record Opened(OpenPort port) implements Opening {}

    record Failed(String words) implements Opening {}

    default <R> R match(Function<OpenPort, R> opened, Function<String, R> failed) {
      if (this instanceof Opened success) {
        return opened.apply(success.port());
      }
      return failed.apply(((Failed) this).words());
    }
  }

  /** Opens the port and throws away what had piled up in it. */
  static Opening open(Path path) {
    Optional<String> obstacle = obstacle(path);
    if (obstacle.isPresent()) {
      return new Opening.Failed(obstacle.get());
    }
    try {
      SerialPort port = SerialPort.getCommPort(path.toString());
      port.setComPortParameters(BAUD, DATA_BITS, SerialPort.ONE_STOP_BIT, SerialPort.NO_PARITY);
      port.setFlowControl(SerialPort.FLOW_CONTROL_DISABLED);
      port.setComPortTimeouts(SerialPort.TIMEOUT_READ_SEMI_BLOCKING, READ_WAIT_MS, 0);
      // Raised by the opening, these two lines reset many a microcontroller.
      port.clearDTR();
      port.clearRTS();
      if (!port.openPort()) {
        return new Opening.Failed(whyNot(path, port.getLastErrorCode()));
      }
      OpenPort opened = new OpenPort(port);
      opened.drain();
      return new Opening.Opened(opened);
    } catch (SerialPortInvalidPortException e) {
      // It went away between our look and the library's.
      return new Opening.Failed(LinkWords.missing(path));
    }
  }

  /**
   * Waits for bytes, about {@value #READ_WAIT_MS} ms at most.
   *
   * @return how many came; 0 when the line is quiet; negative when the port is gone
   */
  int read(byte[] buffer) {
    return port.readBytes(buffer, buffer.length);
  }

  /**
   * Writes all bytes. Does not return while the other side takes nothing, until the port is closed.
   *
   * @return whether they were taken
   */
  boolean write(byte[] bytes) {
    return port.writeBytes(bytes, bytes.length) == bytes.length;
  }

  /** Closes the port and so frees a thread that waits in it. */
  void close() {
    port.closePort();
  }

  /** Lines from before the opening say nothing about now. Bounded; stops when the port is gone. */
  private void drain() {
    byte[] stale = new byte[4096];
    port.flushIOBuffers();
    int quietLooks = 0;
    for (int look = 0; look < DRAIN_LOOKS_MAX && quietLooks < 2; look++) {
      int waiting = port.bytesAvailable();
      if (waiting < 0) {
        return;
      }
      if (waiting > 0) {
        port.readBytes(stale, Math.min(waiting, stale.length));
        quietLooks = 0;
      } else {
        quietLooks++;
        LockSupport.parkNanos(QUIET_NS);
      }
    }
  }

  private static Optional<String> obstacle(Path path) {
    if (!Files.exists(path)) {
      return Optional.of(LinkWords.missing(path));
    }
    Optional<PosixFileAttributes> attributes = attributes(path);
    if (attributes.isPresent() && !attributes.get().isOther()) {
      return Optional.of(LinkWords.notAPort(path));
    }
    if (!Files.isReadable(path) || !Files.isWritable(path)) {
      return Optional.of(LinkWords.denied(path, groupToJoin(attributes)));
    }
    return Optional.empty();
  }

  private static String whyNot(Path path, int errorNumber) {
    if (!Files.exists(path)) {
      return LinkWords.missing(path);
    }
    return switch (errorNumber) {
      case ERROR_PERMISSION -> LinkWords.denied(path, groupToJoin(attributes(path)));
      case ERROR_NO_SUCH_FILE, ERROR_AGAIN, ERROR_BUSY -> LinkWords.busy(path);
      default -> LinkWords.notOpened(path, errorNumber);
    };
  }

  private static Optional<String> groupToJoin(Optional<PosixFileAttributes> attributes) {
    return attributes
        .map(found -> found.group().getName())
        .filter(name -> !GROUPS_NOT_TO_JOIN.contains(name));
  }

  private static Optional<PosixFileAttributes> attributes(Path path) {
    try {
      return Optional.of(Files.readAttributes(path, PosixFileAttributes.class, new LinkOption[0]));
    } catch (IOException | UnsupportedOperationException e) {
      return Optional.empty();
    }
  }
}
