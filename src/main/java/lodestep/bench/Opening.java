package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import lodestep.port.JobStep;
import lodestep.port.LedgerEvent;
import lodestep.port.Outputs;
import lodestep.port.View;

/** Writes the first entries: the batch, and a name for every magnet. */
record Opening(Batch batch, List<LedgerEvent> prologue) implements BatchJob {
  @Override
  public JobStep step(View view) {
    List<LedgerEvent> events = new ArrayList<>(prologue);
    long calibrationNumber = view.nextNumber() + events.size() - 1;
    boolean begun = batch.number() > 0;
    long number = begun || batch.rereads() ? batch.number() : view.nextNumber() + events.size();
    if (!batch.rereads()) {
      events.add(begun ? batch.continuing() : batch.beginning());
    }
    List<Entry> named = new ArrayList<>();
    for (Entry entry : batch.entries()) {
      if (entry.magnet() > 0) {
        named.add(entry);
      } else {
        named.add(entry.named(view.nextNumber() + events.size()));
        events.add(entry.naming(number));
        events.addAll(entry.besides(view.nextNumber() + events.size() - 1));
      }
    }
    Batch ready = batch.numbered(number, named, calibrationNumber);
    return Steps.to(first(ready), Outputs.ALL_LOW, events);
  }

  private static BatchJob first(Batch ready) {
    return ready
        .coilOff()
        .<BatchJob>map(why -> new BatchJob.Attention(ready, why))
        .orElseGet(
            () ->
                ready.jig().isPresent()
                    ? BatchJig.AskEmptyNest.of(ready)
                    : BatchJob.Loading.fresh(ready, false));
  }

  @Override
  public String sentence() {
    return "opening the batch";
  }
}
