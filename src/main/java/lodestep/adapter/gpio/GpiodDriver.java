package lodestep.adapter.gpio;

import com.pi4j.boardinfo.util.BoardInfoHelper;
import com.pi4j.io.gpio.digital.DigitalInputProvider;
import com.pi4j.io.gpio.digital.DigitalOutput;
import com.pi4j.io.gpio.digital.DigitalOutputProvider;
import com.pi4j.library.gpiod.internal.GpioDContext;
import com.pi4j.library.gpiod.internal.GpioLine;
import com.pi4j.plugin.gpiod.provider.gpio.digital.GpioDDigitalInputProvider;
import com.pi4j.plugin.gpiod.provider.gpio.digital.GpioDDigitalOutputProvider;
import java.nio.file.Path;
import java.util.Optional;
import java.util.function.BooleanSupplier;

/** The kernel's own way to the lines (gpiod), on the boards that the library knows. */
final class GpiodDriver implements Driver {

  private static final Path DEVICES = Path.of("/dev");

  @Override
  public String words() {
    return "gpiod on " + BoardInfoHelper.current().getBoardModel().getLabel();
  }

  @Override
  public Optional<String> obstacle() {
    // The library says nothing of a board it does not know until the first line is asked for.
    return BoardCheck.obstacle(BoardInfoHelper.runningOnRaspberryPi(), BoardCheck.chips(DEVICES));
  }

  @Override
  public DigitalOutputProvider outputs() {
    return GpioDDigitalOutputProvider.newInstance();
  }

  @Override
  public DigitalInputProvider inputs() {
    return GpioDDigitalInputProvider.newInstance();
  }

  /** The kernel reads an output's pin, not its register, so a shorted pin is seen. */
  @Override
  public BooleanSupplier levelOf(DigitalOutput output) {
    GpioLine line = GpioDContext.getInstance().getOrOpenLine(output.address().intValue());
    return () -> line.getValue() != 0;
  }
}
