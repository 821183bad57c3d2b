package lodestep.app;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Consumer;
import lodestep.app.remote.RemoteRig;
import lodestep.bench.Batch;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.HallElement;
import lodestep.port.Command;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.HeadLink;
import lodestep.port.Lines;
import lodestep.port.MonotonicClock;
import lodestep.sim.StockPiece;
import lodestep.sim.VirtualOperator;
import lodestep.sim.VirtualRig;

/** What stands behind a board's pins, with its head, its operator and its time. */
sealed interface Behind extends AutoCloseable {
  Lines lines();

  HeadLink head();

  MonotonicClock clock();

  /**
   * Runs until then; whoever stands at the rig may say "continue" on the way.
   *
   * @param cue what the program asks of a hand now
   */
  void runTo(long untilNs, HandCue cue, Consumer<Command> said);

  @Override
  void close();

  /** A port that is closed can be opened again; a link cannot, and the next host has this one. */
  static HeadLink kept(HeadLink link) {
    return new PassedOn(link) {
      @Override
      public void close() {}
    };
  }

  record Inside(
      VirtualRig rig,
      HeadLink head,
      VirtualOperator operator,
      List<Command> words,
      AtomicReference<HandCue> cued)
      implements Behind {

    static Inside of(VirtualRig rig, HeadLink head, Batch batch, Stock stock) {
      List<Command> words = new ArrayList<>();
      AtomicReference<HandCue> cued = new AtomicReference<>(HandCue.of(HandAsk.WAIT));
      VirtualOperator operator =
          new VirtualOperator(
              rig,
              StockPiece.made(stock.pieces(batch), AlloyBook.standard(), HallElement.POINT),
              words::add,
              cued::get,
              stock.operatorSeed(batch));
      return new Inside(rig, head, operator, words, cued);
    }

    @Override
    public Lines lines() {
      return rig.lines();
    }

    @Override
    public MonotonicClock clock() {
      return rig.clock();
    }

    @Override
    public void runTo(long untilNs, HandCue cue, Consumer<Command> said) {
      cued.set(cue);
      while (rig.clock().nowNs() - untilNs < 0) {
        operator.step(rig.clock().nowNs());
        rig.step();
      }
      words.forEach(said);
      words.clear();
    }

    @Override
    public void close() {}
  }

  record OnALine(RemoteRig rig, HeadLink head) implements Behind {
    @Override
    public Lines lines() {
      return rig;
    }

    @Override
    public MonotonicClock clock() {
      return rig.clock();
    }

    @Override
    public void runTo(long untilNs, HandCue cue, Consumer<Command> said) {
      if (clock().nowNs() - untilNs < 0) {
        rig.cue(cue);
        rig.advance(untilNs - clock().nowNs());
        for (int times = 0; times < rig.continues(); times++) {
          said.accept(Command.CONTINUE);
        }
      }
    }

    @Override
    public void close() {
      rig.close();
    }
  }
}
