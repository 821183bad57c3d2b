package lodestep.adapter.gpio;

import com.pi4j.Pi4J;
import com.pi4j.context.Context;
import com.pi4j.io.gpio.digital.DigitalInput;
import com.pi4j.io.gpio.digital.DigitalOutput;
import com.pi4j.io.gpio.digital.DigitalState;
import com.pi4j.io.gpio.digital.PullResistance;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lodestep.adapter.gpio.GpioLines.InputPin;
import lodestep.adapter.gpio.GpioLines.OutputPin;
import lodestep.port.InputLine;
import lodestep.port.LinesException;
import lodestep.port.OutputLine;
import org.tinylog.Logger;

/**
 * The lines taken from one board.
 *
 * @param outputs in the order in which they are lowered
 */
record OpenBoard(Context context, String words, List<OutputPin> outputs, List<InputPin> inputs) {

  /** So that the system's own list of lines in use names the program and the line. */
  private static final String CONSUMER = "lodestep:";

  OpenBoard {
    outputs = List.copyOf(outputs);
    inputs = List.copyOf(inputs);
  }

  /**
   * Takes the lines, outputs first and low.
   *
   * @throws LinesException when one cannot be had; those taken before are given back, low
   */
  static OpenBoard open(Driver driver, Map<String, Integer> pins) {
    driver
        .obstacle()
        .ifPresent(
            why -> {
              throw new LinesException(why);
            });
    Context context = context(driver);
    OpenBoard board = new OpenBoard(context, driver.words(), List.of(), List.of());
    try {
      List<OutputPin> outputs = new ArrayList<>();
      for (OutputLine line : GpioLines.LOWERED_IN_ORDER) {
        number(pins, line).ifPresent(number -> outputs.add(output(context, driver, line, number)));
      }
      List<InputPin> inputs = new ArrayList<>();
      for (InputLine line : InputLine.values()) {
        number(pins, line).ifPresent(number -> inputs.add(input(context, line, number)));
      }
      board = new OpenBoard(context, driver.words(), outputs, inputs);
      Logger.info("lines by {}: {}", board.words(), pins);
      return board;
    } catch (RuntimeException | Error refused) {
      // Those taken so far are low; shutting down gives them back.
      board.shutDown();
      throw refused;
    }
  }

  private static Context context(Driver driver) {
    try {
      return Pi4J.newContextBuilder()
          .noAutoDetect()
          .noAutoInject()
          .disableShutdownHook()
          .add(driver.outputs(), driver.inputs())
          .build();
    } catch (RuntimeException | LinkageError thrown) {
      Logger.warn(thrown);
      throw new LinesException(GpioWords.noLibrary(thrown), thrown);
    }
  }

  private static Optional<Integer> number(Map<String, Integer> pins, Enum<?> line) {
    return Optional.ofNullable(pins.get(GpioWords.name(line)));
  }

  private static OutputPin output(Context context, Driver driver, OutputLine line, int number) {
    try {
      DigitalOutput pin =
          context.create(
              DigitalOutput.newConfigBuilder(context)
                  .id(CONSUMER + GpioWords.name(line))
                  .address(number)
                  .initial(DigitalState.LOW)
                  .shutdown(DigitalState.LOW)
                  .build());
      return new OutputPin(line, number, pin, driver.levelOf(pin));
    } catch (RuntimeException thrown) {
      Logger.warn(thrown);
      throw new LinesException(GpioWords.notHad(line, number, thrown), thrown);
    }
  }

  /** Pulled down, so that an open wire reads open. */
  private static InputPin input(Context context, InputLine line, int number) {
    try {
      DigitalInput pin =
          context.create(
              DigitalInput.newConfigBuilder(context)
                  .id(CONSUMER + GpioWords.name(line))
                  .address(number)
                  .pull(PullResistance.PULL_DOWN)
                  .debounce(0L)
                  .build());
      return new InputPin(line, number, pin);
    } catch (RuntimeException thrown) {
      Logger.warn(thrown);
      throw new LinesException(GpioWords.notHad(line, number, thrown), thrown);
    }
  }

  /**
   * Gives the lines back. The outputs are low already: the library's own shutdown stops halfway
   * when a line throws, so nothing relies on it.
   */
  void shutDown() {
    try {
      context.shutdown();
    } catch (RuntimeException | Error thrown) {
      Logger.warn(thrown);
    }
  }
}
