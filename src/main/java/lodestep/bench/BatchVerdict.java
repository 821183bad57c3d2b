package lodestep.bench;

import java.util.Optional;
import lodestep.dial.Move;
import lodestep.dial.Verdict;
import lodestep.port.Command;
import lodestep.port.InputLine;
import lodestep.port.JobStep;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.View;

/** The states of a batch between a verdict and the next magnet. */
public final class BatchVerdict {

  private BatchVerdict() {}

  /**
   * The verdict is handed to the ledger, and no lamp shows it before it is safe on disk: one that a
   * crash could still take back would send the magnet to its box while the record has it open.
   *
   * @param batch with the magnet still open
   * @param ended with its verdict
   * @param number the verdict's event
   * @param after what a person has asked to follow
   */
  public record Recording(
      Batch batch, Batch ended, String name, Move.Finish end, long number, Afterwards after)
      implements BatchJob {
    @Override
    public JobStep step(View view) {
      if (view.trip().isPresent()) {
        boolean lost = view.ledger().fault().isPresent();
        return BatchJob.Tripped.from(lost ? batch : ended, Optional.empty(), view);
      }
      Afterwards follows = after.seen(view);
      if (view.ledger().durableTo() < number) {
        Recording same = new Recording(batch, ended, name, end, number, follows);
        return Steps.to(same, Outputs.high(OutputLine.LAMP_BUSY), Steps.asked(view));
      }
      boolean accepted = end.verdict() == Verdict.ACCEPTED;
      Showing next = new Showing(ended, name, accepted, end, view.nowNs(), follows);
      return Steps.to(next, Showing.lamps(accepted, true), Steps.asked(view));
    }

    @Override
    public String sentence() {
      return name + ": writing the verdict down";
    }
  }

  /**
   * The lamp shows the verdict until the magnet is taken out.
   *
   * @param after what a person has asked to follow
   */
  public record Showing(
      Batch batch, String name, boolean accepted, Move.Finish end, long sinceNs, Afterwards after)
      implements BatchJob {

    private static final long BUZZ_NS = 300_000_000L;

    @Override
    public JobStep step(View view) {
      if (view.trip().isPresent()) {
        return BatchJob.Tripped.from(batch, Optional.empty(), view);
      }
      Afterwards follows = after.seen(view);
      if (view.commands().contains(Command.FINISH)) {
        return BatchJob.Done.from(batch, view);
      }
      if (!view.contacts().closed(InputLine.WORK_SEAT)) {
        if (batch.next().isEmpty() || follows == Afterwards.END) {
          return BatchJob.Done.from(batch, view);
        }
        boolean wait = follows == Afterwards.PAUSE;
        return Steps.to(BatchJob.Loading.fresh(batch, wait), Outputs.ALL_LOW, Steps.asked(view));
      }
      Showing next = new Showing(batch, name, accepted, end, sinceNs, follows);
      boolean buzz = view.nowNs() - sinceNs < BUZZ_NS;
      return Steps.to(next, lamps(accepted, buzz), Steps.asked(view));
    }

    static Outputs lamps(boolean accepted, boolean buzz) {
      return Outputs.high(accepted ? OutputLine.LAMP_ACCEPT : OutputLine.LAMP_REFUSE)
          .with(OutputLine.BUZZER, buzz);
    }

    @Override
    public String sentence() {
      String verdict = batch.rereads() ? "" : " " + end.verdict().word();
      return name + verdict + ": " + end.why() + "; take it out" + after.words();
    }
  }
}
