package lodestep.adapter.gpio;

import com.pi4j.io.gpio.digital.DigitalInput;
import com.pi4j.io.gpio.digital.DigitalOutput;
import com.pi4j.io.gpio.digital.DigitalState;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.BooleanSupplier;
import lodestep.port.Contacts;
import lodestep.port.InputLine;
import lodestep.port.Lines;
import lodestep.port.LinesException;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;

/**
 * The rig's contacts and relays on the lines of a small board. A high input is a closed contact, a
 * high output a fed relay; nothing is inverted, so that an open wire and a dead board are safe.
 *
 * <p>The first thread that reads or drives owns the lines, and any other is refused: the library
 * keeps no order among threads. {@link #close} alone may come from any.
 *
 * <p>Anything thrown by a line lowers every output and keeps it low for good. When this has closed,
 * the lines are no longer touched: contacts read open and outputs low. The library itself would
 * still raise a line then.
 *
 * <p>Of the library only {@code create}, {@code state} and {@code shutdown} are used; its timed
 * writes can leave a line high, its listeners can stop its shutdown halfway, and its own hook for
 * the end of the program knows nothing of ours.
 */
public final class GpioLines implements Lines {

  /** In this order outputs are lowered, and in the opposite one raised: energy goes first. */
  static final List<OutputLine> LOWERED_IN_ORDER =
      List.of(
          OutputLine.COIL_FIRE,
          OutputLine.BANK_FILL,
          OutputLine.COIL_ON,
          OutputLine.BANK_HOLD,
          OutputLine.JIG_ENABLE,
          OutputLine.COIL_REVERSE,
          OutputLine.COIL_FULL,
          OutputLine.LADDER_1,
          OutputLine.LADDER_2,
          OutputLine.LADDER_3,
          OutputLine.LADDER_4,
          OutputLine.LADDER_5,
          OutputLine.LADDER_6,
          OutputLine.LADDER_7,
          OutputLine.LADDER_8,
          OutputLine.LAMP_READY,
          OutputLine.LAMP_BUSY,
          OutputLine.LAMP_ACCEPT,
          OutputLine.LAMP_REFUSE,
          OutputLine.BUZZER);

  /**
   * A scan takes far less than a millisecond; an owner that takes this long hangs in the system.
   */
  private static final long CLOSE_WAIT_MS = 500;

  /** An output with its pin and with what its pin really shows. */
  record OutputPin(OutputLine line, int number, DigitalOutput pin, BooleanSupplier level) {}

  /** An input with its pin. */
  record InputPin(InputLine line, int number, DigitalInput pin) {}

  private final OpenBoard board;
  private final List<OutputPin> outputs;
  private final List<InputPin> inputs;
  private final Outputs unwired;
  private final boolean seatWired;
  private final ReentrantLock lock = new ReentrantLock();
  private Optional<Thread> owner = Optional.empty();
  private boolean failed;
  private boolean released;
  private volatile boolean closed;

  private GpioLines(OpenBoard board) {
    this.board = board;
    this.outputs = board.outputs();
    this.inputs = board.inputs();
    Outputs missing = Outputs.high(OutputLine.values());
    for (OutputPin output : outputs) {
      missing = missing.with(output.line(), false);
    }
    this.unwired = missing;
    this.seatWired = inputs.stream().anyMatch(input -> input.line() == InputLine.WORK_SEAT);
  }

  /**
   * Takes the board's lines, every output low.
   *
   * @param pins the board's number (BCM) of each line by its name in lower case; an output without
   *     one is not there and reads back as driven
   * @throws LinesException when the board is not known, has no lines, this user may not drive them,
   *     or one of them is in use; nothing is held then
   */
  public static GpioLines open(Map<String, Integer> pins) {
    return open(new GpiodDriver(), pins);
  }

  static GpioLines open(Driver driver, Map<String, Integer> pins) {
    return new GpioLines(OpenBoard.open(driver, pins));
  }

  /** How the lines are driven, for people: the driver and the board. */
  public String words() {
    return board.words();
  }

  /**
   * {@inheritDoc} Without a seat contact the nest counts as taken while the lid is closed, so that
   * the next start needs the lid seen open.
   *
   * @throws LinesException when a line cannot be read; every output is low then
   * @throws IllegalStateException from a thread that does not own the lines
   */
  @Override
  public Contacts read(long nowNs) {
    own();
    lock.lock();
    try {
      return closed ? new Contacts(0, nowNs) : readPins(nowNs);
    } finally {
      lock.unlock();
    }
  }

  private Contacts readPins(long nowNs) {
    Contacts contacts = new Contacts(0, nowNs);
    for (InputPin input : inputs) {
      contacts = contacts.with(input.line(), isClosed(input));
    }
    boolean lid = contacts.closed(InputLine.LID_A) && contacts.closed(InputLine.LID_B);
    return seatWired ? contacts : contacts.with(InputLine.WORK_SEAT, lid);
  }

  private boolean isClosed(InputPin input) {
    try {
      return input.pin().state() == DigitalState.HIGH;
    } catch (RuntimeException thrown) {
      throw letGo(
          new LinesException(GpioWords.notRead(input.line(), input.number(), thrown), thrown));
    } catch (Error thrown) {
      throw letGo(thrown);
    }
  }

  /**
   * {@inheritDoc}
   *
   * @throws LinesException when a line cannot be driven or read back; every other output is low
   *     then
   * @throws IllegalStateException from a thread that does not own the lines
   */
  @Override
  public Outputs drive(Outputs wanted) {
    own();
    lock.lock();
    try {
      if (closed) {
        return Outputs.ALL_LOW;
      }
      Outputs levels = failed ? Outputs.ALL_LOW : wanted;
      for (OutputPin output : outputs) {
        if (!levels.isHigh(output.line())) {
          write(output, DigitalState.LOW);
        }
      }
      for (int i = outputs.size() - 1; i >= 0 && !closed; i--) {
        if (levels.isHigh(outputs.get(i).line())) {
          write(outputs.get(i), DigitalState.HIGH);
        }
      }
      return readBack(levels);
    } finally {
      lock.unlock();
    }
  }

  private void write(OutputPin output, DigitalState state) {
    guarded(
        output,
        () -> {
          output.pin().state(state);
          return true;
        });
  }

  private Outputs readBack(Outputs levels) {
    Outputs read = levels.only(unwired);
    for (OutputPin output : outputs) {
      read = read.with(output.line(), guarded(output, output.level()));
    }
    return read;
  }

  private boolean guarded(OutputPin output, BooleanSupplier act) {
    try {
      return act.getAsBoolean();
    } catch (RuntimeException thrown) {
      throw letGo(
          new LinesException(GpioWords.notDriven(output.line(), output.number(), thrown), thrown));
    } catch (Error thrown) {
      throw letGo(thrown);
    }
  }

  /** Everything low before anybody hears of it; what fails on the way is told beside it. */
  private <T extends Throwable> T letGo(T thrown) {
    failed = true;
    lowerAll().forEach(thrown::addSuppressed);
    return thrown;
  }

  /** Lowers each output, whatever another one throws. */
  private List<Throwable> lowerAll() {
    List<Throwable> failures = new ArrayList<>();
    for (OutputPin output : outputs) {
      try {
        output.pin().state(DigitalState.LOW);
      } catch (RuntimeException | Error thrown) {
        String sentence = GpioWords.notDriven(output.line(), output.number(), thrown);
        failures.add(new LinesException(sentence, thrown));
      }
    }
    return failures;
  }

  private void own() {
    Thread current = Thread.currentThread();
    lock.lock();
    try {
      if (owner.isEmpty()) {
        owner = Optional.of(current);
      }
      if (owner.get() != current) {
        throw new IllegalStateException(
            "the lines belong to thread " + owner.get().getName() + ", not " + current.getName());
      }
    } finally {
      lock.unlock();
    }
  }

  /**
   * {@inheritDoc} From any thread; a second call does nothing. When the owner hangs in a line, the
   * outputs are lowered over its head and the lines are not given back.
   *
   * @throws LinesException when an output could not be lowered; all others are
   */
  @Override
  public void close() {
    closed = true;
    boolean alone = waitForOwner();
    try {
      if (!released) {
        List<Throwable> failures = lowerAll();
        if (alone) {
          released = true;
          board.shutDown();
        }
        throwFirst(failures);
      }
    } finally {
      if (alone) {
        lock.unlock();
      }
    }
  }

  private boolean waitForOwner() {
    try {
      return lock.tryLock(CLOSE_WAIT_MS, TimeUnit.MILLISECONDS);
    } catch (InterruptedException asked) {
      Thread.currentThread().interrupt();
      return lock.tryLock();
    }
  }

  private static void throwFirst(List<Throwable> failures) {
    if (!failures.isEmpty() && failures.get(0) instanceof LinesException first) {
      failures.subList(1, failures.size()).forEach(first::addSuppressed);
      throw first;
    }
  }
}
