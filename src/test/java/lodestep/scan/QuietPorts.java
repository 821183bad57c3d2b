package lodestep.scan;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import lodestep.interlock.InterlockState;
import lodestep.port.Contacts;
import lodestep.port.EventDraft;
import lodestep.port.HeadLink;
import lodestep.port.InputLine;
import lodestep.port.Job;
import lodestep.port.JobStep;
import lodestep.port.Ledger;
import lodestep.port.LedgerState;
import lodestep.port.Lines;
import lodestep.port.LinkState;
import lodestep.port.Outputs;
import lodestep.port.PlanAnswer;
import lodestep.port.PlanDesk;
import lodestep.port.PlanQuestion;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;

/** Ports that cost next to nothing, so that what is measured is the scan itself. */
final class QuietPorts implements Lines, HeadLink, Ledger, PlanDesk {

  private static final int CLOSED =
      Contacts.of(
              List.of(
                  InputLine.LID_A,
                  InputLine.LID_B,
                  InputLine.STOP_LOOP,
                  InputLine.ARM_KEY,
                  InputLine.FILL_CONTACT,
                  InputLine.BLEED_CONTACT),
              0)
          .closedBits();
  private static final int FLAGS =
      HeadFlag.CHAIN.bit()
          | HeadFlag.LID_A.bit()
          | HeadFlag.LID_B.bit()
          | HeadFlag.STOP_LOOP.bit()
          | HeadFlag.FILL_CONTACT.bit()
          | HeadFlag.BLEED_CONTACT.bit();

  private final LinkState link = new LinkState(true, 0, "");
  private final LedgerState ledger = new LedgerState(0, Optional.empty());
  private List<ReceivedFrame> frames = List.of();
  private int sequence;
  private boolean due;

  ScanCycle cycle() {
    Job job =
        new Job() {
          @Override
          public JobStep step(View view) {
            return JobStep.stay(this, Outputs.ALL_LOW, false);
          }
        };
    return new ScanCycle(
        new ScanPorts(this, this, this, this, () -> Instant.EPOCH),
        ScanBench.SETTINGS,
        InterlockState.powerOn(),
        job);
  }

  void tick(long nowNs) {
    due = !due;
    if (due) {
      sequence++;
      HeadFrame.Status status =
          new HeadFrame.Status(
              sequence,
              1,
              nowNs / 1_000_000,
              sequence % 256,
              0,
              2_200,
              2_500 + sequence % 7,
              0,
              0,
              0,
              FLAGS);
      frames = List.of(new ReceivedFrame(status, nowNs));
    } else {
      frames = List.of();
    }
  }

  @Override
  public Contacts read(long nowNs) {
    return new Contacts(CLOSED, nowNs);
  }

  @Override
  public Outputs drive(Outputs outputs) {
    return outputs;
  }

  @Override
  public List<ReceivedFrame> take() {
    return frames;
  }

  @Override
  public LinkState state(long nowNs) {
    return link;
  }

  @Override
  public void offer(HeadRequest request) {}

  @Override
  public void stop() {}

  @Override
  public long nextNumber() {
    return 1;
  }

  @Override
  public void append(EventDraft draft) {}

  @Override
  public LedgerState state() {
    return ledger;
  }

  @Override
  public void ask(PlanQuestion question) {}

  @Override
  public Optional<PlanAnswer> take(long nowNs) {
    return Optional.empty();
  }

  @Override
  public void close() {}
}
