package lodestep.bench;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lodestep.port.ActEvent;
import lodestep.port.JobStep;
import lodestep.port.LedgerEvent;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.RefusalReason;

/**
 * Before anything else after a crash: asks the head how the pulses ended that the earlier run left
 * open. What it does not answer in time, or can no longer know since it has started anew, is closed
 * as unknown, which the prologue already says of each.
 *
 * @param prologue closes each of them as unknown
 * @param beganNs empty before the first scan
 * @param askedAtNs when they were asked last; empty while the head has not said who it is
 * @param known how those ended of which a report has come
 * @param unheard those the head has no report of
 */
record Recalling(
    Batch batch,
    List<LedgerEvent> prologue,
    PulseRecall recall,
    Optional<Long> beganNs,
    Optional<Long> askedAtNs,
    Map<Long, ActEvent.PulseEnded> known,
    Set<Long> unheard)
    implements BatchJob {

  /** A head that the opening of its port has reset needs two seconds to speak. */
  static final long WAIT_NS = 5_000_000_000L;

  /** Asking again for what was lost on the way. */
  private static final long ASK_AGAIN_NS = 500_000_000L;

  Recalling {
    prologue = List.copyOf(prologue);
    known = Collections.unmodifiableMap(new HashMap<>(known));
    unheard = Collections.unmodifiableSet(new HashSet<>(unheard));
  }

  static Recalling begin(Batch batch, List<LedgerEvent> prologue, PulseRecall recall) {
    return new Recalling(
        batch, prologue, recall, Optional.empty(), Optional.empty(), Map.of(), Set.of());
  }

  @Override
  public JobStep step(View view) {
    long began = beganNs.orElse(view.nowNs());
    Map<Long, ActEvent.PulseEnded> reported = new HashMap<>(known);
    Set<Long> missing = new HashSet<>(unheard);
    Optional<HeadFrame.Hello> hello = Optional.empty();
    for (ReceivedFrame received : view.frames()) {
      if (received.frame() instanceof HeadFrame.Hello said) {
        hello = Optional.of(said);
      } else if (received.frame() instanceof HeadFrame.PulseReport report && recall.means(report)) {
        reported.put(report.intentNumber(), recall.ended(report, coilCentiDegC(view)));
      } else if (received.frame() instanceof HeadFrame.Refused refused
          && refused.reason() == RefusalReason.NOT_IN_RING) {
        missing.add(refused.intentNumber());
      }
    }
    boolean anotherRun = hello.filter(said -> said.bootId() != recall.bootId()).isPresent();
    Set<Long> open = new HashSet<>(recall.intents().keySet());
    open.removeAll(reported.keySet());
    open.removeAll(missing);
    if (anotherRun || open.isEmpty() || view.nowNs() - began > WAIT_NS) {
      return Steps.to(new Opening(told(reported), closed(reported)), Outputs.ALL_LOW, List.of());
    }
    boolean due =
        hello.isPresent()
            || askedAtNs.filter(asked -> view.nowNs() - asked > ASK_AGAIN_NS).isPresent();
    Optional<Long> asked = due ? Optional.of(view.nowNs()) : askedAtNs;
    Recalling next =
        new Recalling(batch, prologue, recall, Optional.of(began), asked, reported, missing);
    List<HeadRequest> requests =
        due
            ? open.stream().sorted().<HeadRequest>map(HeadRequest.AskPulse::new).toList()
            : List.of();
    return new JobStep(next, Outputs.ALL_LOW, false, List.of(), requests, Optional.empty());
  }

  /** The batch with what these pulses carried, in the order in which they were meant. */
  private Batch told(Map<Long, ActEvent.PulseEnded> reported) {
    Batch told = batch;
    for (Map.Entry<Long, ActEvent.PulseIntent> open : recall.intents().entrySet()) {
      ActEvent.PulseEnded ended = reported.get(open.getKey());
      told = ended == null ? told : told.told(open.getValue(), ended);
    }
    return told;
  }

  private static long coilCentiDegC(View view) {
    return view.status().map(status -> (long) status.frame().coilCentiDegC()).orElse(0L);
  }

  /** The prologue with what is known in the place of "unknown". */
  private List<LedgerEvent> closed(Map<Long, ActEvent.PulseEnded> reported) {
    List<LedgerEvent> events = new ArrayList<>();
    for (LedgerEvent event : prologue) {
      ActEvent.PulseEnded better =
          event instanceof ActEvent.PulseEnded ended ? reported.get(ended.intent()) : null;
      events.add(better == null ? event : better);
    }
    return events;
  }

  @Override
  public String sentence() {
    return "asking the head how the earlier run's pulse ended";
  }
}
