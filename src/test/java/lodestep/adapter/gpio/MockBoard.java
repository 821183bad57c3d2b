package lodestep.adapter.gpio;

import com.pi4j.io.exception.IOException;
import com.pi4j.io.gpio.digital.DigitalInput;
import com.pi4j.io.gpio.digital.DigitalInputConfig;
import com.pi4j.io.gpio.digital.DigitalInputProvider;
import com.pi4j.io.gpio.digital.DigitalOutput;
import com.pi4j.io.gpio.digital.DigitalOutputConfig;
import com.pi4j.io.gpio.digital.DigitalOutputProvider;
import com.pi4j.io.gpio.digital.DigitalState;
import com.pi4j.plugin.mock.provider.gpio.digital.MockDigitalInput;
import com.pi4j.plugin.mock.provider.gpio.digital.MockDigitalInputProviderImpl;
import com.pi4j.plugin.mock.provider.gpio.digital.MockDigitalOutput;
import com.pi4j.plugin.mock.provider.gpio.digital.MockDigitalOutputProviderImpl;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lodestep.port.Contacts;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;

/**
 * A board of the library's own pretended lines, to be wired to whatever a test likes. A line of it
 * can be made to throw. Confined to one thread, but for what the tests of threads do.
 */
public final class MockBoard {

  private static final String CONSUMER = "lodestep:";

  /** A number for each line, in the order of the lines. */
  private static final Map<String, Integer> NUMBERS = numbers();

  private final Map<OutputLine, RiggedOutput> outputs = new EnumMap<>(OutputLine.class);
  private final Map<InputLine, RiggedInput> inputs = new EnumMap<>(InputLine.class);
  private final Map<OutputLine, Supplier<Throwable>> faults = new EnumMap<>(OutputLine.class);
  private final List<String> writes = new ArrayList<>();
  private Optional<OutputLine> shorted = Optional.empty();
  private Optional<Object> refused = Optional.empty();

  /** A pin for every line. */
  public static Map<String, Integer> allPins() {
    return NUMBERS;
  }

  static int pin(String name) {
    return wired(NUMBERS, name);
  }

  /** A pin for every line but these. */
  public static Map<String, Integer> pinsWithout(String... names) {
    return NUMBERS.entrySet().stream()
        .filter(pin -> !Arrays.asList(names).contains(pin.getKey()))
        .collect(Collectors.toMap(Map.Entry::getKey, Map.Entry::getValue));
  }

  private static Map<String, Integer> numbers() {
    List<String> names =
        Stream.<Enum<?>>concat(
                Arrays.stream(OutputLine.values()), Arrays.stream(InputLine.values()))
            .map(line -> line.name().toLowerCase(Locale.ROOT))
            .toList();
    return names.stream().collect(Collectors.toMap(name -> name, name -> 5 + names.indexOf(name)));
  }

  /** Lines on this board. */
  public GpioLines open(Map<String, Integer> pins) {
    return GpioLines.open(new PretendedDriver(), pins);
  }

  /** Lets the contact stand so. */
  public void contact(InputLine line, boolean closed) {
    Optional.ofNullable(inputs.get(line))
        .ifPresent(pin -> pin.mockState(DigitalState.getState(closed)));
  }

  /** Lets every wired contact stand as given. */
  public void contacts(Contacts contacts) {
    for (InputLine line : InputLine.values()) {
      contact(line, contacts.closed(line));
    }
  }

  /** The levels at the outputs. */
  public Outputs standing() {
    Outputs high = Outputs.ALL_LOW;
    for (RiggedOutput pin : outputs.values()) {
      high = high.with(pin.line, pin.state() == DigitalState.HIGH);
    }
    return high;
  }

  /** From now on a write to this output throws; nothing is changed at it. */
  public void breakOutput(OutputLine line, Supplier<Throwable> fault) {
    faults.put(line, fault);
  }

  /** From now on reading this contact throws. */
  void breakInput(InputLine line) {
    wired(inputs, line).broken = true;
  }

  /** This output reads back low whatever is driven. */
  void shortToGround(OutputLine line) {
    shorted = Optional.of(line);
  }

  /** Another program has this line: it cannot be taken. */
  void occupy(Object line) {
    refused = Optional.of(line);
  }

  /** Every change of a level since the last call, oldest first, as "+line" or "-line". */
  List<String> takeWrites() {
    List<String> taken = List.copyOf(writes);
    writes.clear();
    return taken;
  }

  int takenOutputs() {
    return outputs.size();
  }

  /** Raises an output behind the back of the lines, as a fault of the program would. */
  void raiseBehindTheBack(OutputLine line) {
    wired(outputs, line).state(DigitalState.HIGH);
  }

  private static <L, P> P wired(Map<L, P> pins, L line) {
    return Optional.ofNullable(pins.get(line)).orElseThrow();
  }

  private void refuse(Object line) {
    if (refused.equals(Optional.of(line))) {
      throw new IllegalStateException("Device or resource busy");
    }
  }

  private static <E extends Enum<E>> E line(Class<E> kind, String id) {
    return Enum.valueOf(kind, id.substring(CONSUMER.length()).toUpperCase(Locale.ROOT));
  }

  private final class RiggedOutput extends MockDigitalOutput {
    private final OutputLine line;

    RiggedOutput(DigitalOutputProvider provider, DigitalOutputConfig config) {
      super(provider, config);
      this.line = line(OutputLine.class, config.id());
    }

    @Override
    public DigitalOutput state(DigitalState state) throws IOException {
      Optional<Throwable> fault = Optional.ofNullable(faults.get(line)).map(Supplier::get);
      if (fault.isPresent() && fault.get() instanceof Error error) {
        throw error;
      }
      if (fault.isPresent()) {
        throw new IOException("Input/output error", fault.get());
      }
      if (state != state()) {
        writes.add((state == DigitalState.HIGH ? "+" : "-") + line);
      }
      return super.state(state);
    }
  }

  private static final class RiggedInput extends MockDigitalInput {
    private boolean broken;

    RiggedInput(DigitalInputProvider provider, DigitalInputConfig config) {
      super(provider, config);
    }

    @Override
    public DigitalState state() {
      if (broken) {
        throw new IllegalStateException("Input/output error");
      }
      return super.state();
    }
  }

  private final class PretendedDriver implements Driver {
    @Override
    public String words() {
      return "pretended lines";
    }

    @Override
    public Optional<String> obstacle() {
      return Optional.empty();
    }

    @Override
    public DigitalOutputProvider outputs() {
      return new MockDigitalOutputProviderImpl() {
        @Override
        public DigitalOutput create(DigitalOutputConfig config) {
          OutputLine line = line(OutputLine.class, config.id());
          refuse(line);
          RiggedOutput pin = new RiggedOutput(this, config);
          context.registry().add(pin);
          outputs.put(line, pin);
          return pin;
        }
      };
    }

    @Override
    public DigitalInputProvider inputs() {
      return new MockDigitalInputProviderImpl() {
        @Override
        public DigitalInput create(DigitalInputConfig config) {
          InputLine line = line(InputLine.class, config.id());
          refuse(line);
          RiggedInput pin = new RiggedInput(this, config);
          context.registry().add(pin);
          inputs.put(line, pin);
          return pin;
        }
      };
    }

    @Override
    public BooleanSupplier levelOf(DigitalOutput output) {
      OutputLine line = line(OutputLine.class, output.id());
      return () -> output.state() == DigitalState.HIGH && !shorted.equals(Optional.of(line));
    }
  }
}
