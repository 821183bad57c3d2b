package lodestep.bench;

import java.util.HashMap;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.BiConsumer;
import lodestep.config.RigConfig;
import lodestep.config.RigFile;
import lodestep.config.RigReading;
import lodestep.device.UsualCurrents;
import lodestep.dial.FieldSource;
import lodestep.ledger.EventCodec;
import lodestep.port.ActEvent;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;

/**
 * What the record tells of what the rig's coils carry. Pulses count that were fired while rig.toml
 * told the same of coil, bank capacitance and supply as it does now: a coil that was changed, and
 * its figures with it, begins anew. Confined to its caller.
 */
final class CoilsOnRecord {

  private final RigConfig rig;
  private final Map<String, FieldSource> sources = new HashMap<>();
  private final Map<String, String> texts = new HashMap<>();
  private final Map<String, RigReading> read = new HashMap<>();
  private final Map<Long, ActEvent.PulseIntent> intents = new HashMap<>();
  private String rigFile = "";
  private UsualCurrents known;

  private CoilsOnRecord(RigConfig rig, UsualCurrents before) {
    this.rig = rig;
    this.known = before;
    rig.coils().forEach(coil -> sources.put(coil.name(), Prepared.coil(coil, rig)));
  }

  static UsualCurrents of(LedgerArchive archive, RigConfig rig, UsualCurrents before) {
    if (rig.coils().isEmpty()) {
      return before;
    }
    CoilsOnRecord record = new CoilsOnRecord(rig, before);
    each(
        archive,
        LedgerEvent.RigDescribed.class,
        (number, event) -> record.texts.put(event.sha256(), event.text()));
    each(archive, ActEvent.PulseIntended.class, record.intents::put);
    each(archive, ActEvent.SwitchedPulseIntended.class, record.intents::put);
    Map<Long, LedgerEvent> inOrder = new TreeMap<>();
    each(archive, LedgerEvent.ProgramStarted.class, inOrder::put);
    each(archive, ActEvent.PulseEnded.class, inOrder::put);
    each(archive, LedgerEvent.CoilSeenTo.class, inOrder::put);
    inOrder.values().forEach(record::take);
    return record.known;
  }

  private static <E extends LedgerEvent> void each(
      LedgerArchive archive, Class<E> kind, BiConsumer<Long, E> taker) {
    archive.forEachOfKind(
        EventCodec.kind(kind),
        stored ->
            taker.accept(stored.index().number(), kind.cast(EventCodec.decode(stored).event())));
  }

  private void take(LedgerEvent event) {
    if (event instanceof LedgerEvent.ProgramStarted started) {
      rigFile = started.rigFileSha256();
    } else if (event instanceof LedgerEvent.CoilSeenTo) {
      known = known.seenTo();
    } else if (event instanceof ActEvent.PulseEnded ended) {
      ActEvent.PulseIntent intent = intents.get(ended.intent());
      FieldSource source = intent == null ? null : sources.get(intent.coil());
      if (intent != null && source != null && asNow(intent.coil())) {
        source.carried(intent, ended).ifPresent(carried -> known = known.with(carried));
      }
    }
  }

  /** Whether the description of that time tells of the coil and what feeds it what it does now. */
  private boolean asNow(String coil) {
    String text = texts.getOrDefault(rigFile, "");
    if (text.equals(rig.text())) {
      return true;
    }
    return read.computeIfAbsent(rigFile, sha -> RigFile.read("rig.toml", text))
            instanceof RigReading.Rig then
        && feedsAlike(then.config())
        && then.config().coils().contains(rig.coil(coil));
  }

  private boolean feedsAlike(RigConfig then) {
    return then.bank().capacitanceFarads() == rig.bank().capacitanceFarads()
        && then.feed().equals(rig.feed());
  }
}
