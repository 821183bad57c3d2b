package lodestep.adapter.gpio;

import lodestep.contract.LinesContract;
import lodestep.port.InputLine;
import lodestep.port.Lines;
import lodestep.port.Outputs;

/** A board's lines keep to what all lines do. */
class GpioLinesContractTest extends LinesContract {

  private final MockBoard board = new MockBoard();
  private final Lines lines = board.open(MockBoard.allPins());

  @Override
  protected Lines lines() {
    return lines;
  }

  @Override
  protected void move(InputLine line, boolean closed) {
    board.contact(line, closed);
  }

  @Override
  protected Outputs standing() {
    return board.standing();
  }
}
