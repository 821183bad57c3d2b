package lodestep.app;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lodestep.adapter.paper.SheetPdf;
import lodestep.adapter.paper.StickersPdf;
import lodestep.bench.LedgerStart;
import lodestep.bench.Lots;
import lodestep.bench.Matching;
import lodestep.bench.PoleJob;
import lodestep.bench.PoleSeat;
import lodestep.bench.PoleWork;
import lodestep.cli.HistoryCsv;
import lodestep.cli.NotesCsv;
import lodestep.cli.PaperWork;
import lodestep.cli.Refusal;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.Pickup;
import lodestep.magnet.AlloyBook;
import lodestep.panel.Bench;
import lodestep.panel.Shelf;
import lodestep.paper.BuildNotes;
import lodestep.paper.Entered;
import lodestep.paper.LotSample;
import lodestep.paper.Papers;
import lodestep.paper.ReturnWork;
import lodestep.paper.Things;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerException;
import lodestep.port.Sheet;
import lodestep.port.Stickers;
import lodestep.port.WallClock;
import lodestep.scan.Note;
import lodestep.scan.Notes;
import lodestep.voice.NoteAsked;

/** What is on record beside a rig that runs. Any thread. */
final class PageShelf implements Shelf {

  /** A disk takes milliseconds; the page waits this long before it says that it does not know. */
  private static final long DURABLE_MS = 4_000;

  private final PageBench.Parts parts;
  private final WallClock wall;
  private final PageRecord record;

  /**
   * @param wall by which a day is one that has come
   */
  PageShelf(PageBench.Parts parts, WallClock wall) {
    this.parts = parts;
    this.wall = wall;
    this.record = new PageRecord(parts.ledgerFile());
  }

  private RigConfig rig() {
    return parts.rig();
  }

  @Override
  public <T> T read(Function<Things, T> reading) {
    return archived(archive -> reading.apply(new Things(archive)));
  }

  private <T> T archived(Function<LedgerArchive, T> reading) {
    try {
      return record
          .read(reading)
          .orElseThrow(() -> new IllegalArgumentException("nothing is on record yet"));
    } catch (Refusal refused) {
      throw new IllegalArgumentException(refused.getMessage(), refused);
    }
  }

  @Override
  public LotSample sample(String lot) {
    return archived(archive -> LotSample.of(archive, lot, "stock in"));
  }

  @Override
  public long keep(List<LedgerEvent> events) {
    if (events.size() > Notes.ENTRIES_MAX) {
      throw new IllegalArgumentException(
          "the file has more than the page takes at once; take it in by the command instead:"
              + " lodestep voice notes --from");
    }
    Note note =
        parts
            .scan()
            .notes()
            .offer(events)
            .orElseThrow(() -> new LedgerException("too much waits to be written; ask again"));
    return note.await(DURABLE_MS);
  }

  @Override
  public LocalDate latestDay() {
    return PaperDesk.latestDay(wall.now());
  }

  @Override
  public List<NoteAsked.Made> notes(String csv) {
    try {
      return NotesCsv.read(csv, rig(), latestDay());
    } catch (Refusal refused) {
      throw new IllegalArgumentException(refused.getMessage(), refused);
    }
  }

  @Override
  public Bench.Answer readPoles(PoleOrder order) {
    if (rig().kind() == RigKind.REAL && order.virtualAmperesPerMetre() > 0) {
      throw new IllegalArgumentException("a field that is only thought of is of a virtual rig");
    }
    PaperWork.PoleRun run = read(things -> run(things, order));
    LedgerStart.Program program = parts.program();
    return parts.begin(
        PoleJob.begin(run.work(program.calibration()), LedgerStart.later(program).prologue()),
        () -> VirtualPickup.laid(run),
        "the reading of its pole tops begins");
  }

  private PaperWork.PoleRun run(Things things, PoleOrder order) {
    Pickup pickup =
        things.pickups().stream()
            .filter(one -> one.number() == order.pickup())
            .findFirst()
            .orElseThrow(() -> new IllegalArgumentException("no such pickup is on record"));
    ReturnWork known = ReturnWork.of(things, pickup);
    Optional<Pickup.Round> newest = pickup.rounds().stream().reduce((older, newer) -> newer);
    String first = newest.isEmpty() ? PoleWork.AS_BUILT : PoleWork.AS_FOUND;
    PoleSeat seat = PoleSeat.like(order.back() ? known.round() : newest);
    seat = order.seat().isPresent() ? seat.in(Entered.name(order.seat().get())) : seat;
    seat = order.spacer().isPresent() ? seat.over("", order.spacer().get()) : seat;
    return new PaperWork.PoleRun(
        rig(),
        parts.ledgerFile(),
        pickup.number(),
        pickup.built(),
        pickup.nextRound(),
        order.back() ? known.stage() : first,
        seat,
        known.magnets(),
        parts.work().seed(),
        order.virtualAmperesPerMetre());
  }

  @Override
  public Matching match(long batch) {
    try {
      return parts.work().match(batch);
    } catch (Refusal refused) {
      throw new IllegalArgumentException(refused.getMessage(), refused);
    }
  }

  @Override
  public Papers papers() {
    return new Papers(rig().name(), rig().kind(), parts.program().version());
  }

  @Override
  public AlloyBook book() {
    return Lots.of(rig());
  }

  @Override
  public byte[] pdf(Sheet sheet) {
    return SheetPdf.of(sheet);
  }

  @Override
  public byte[] pdf(Stickers stickers) {
    return StickersPdf.of(stickers);
  }

  @Override
  public String csv(BuildNotes notes) {
    return NotesCsv.of(notes.notes());
  }

  @Override
  public String csv(MagnetHistory history) {
    List<MagnetHistory> one = List.of(history);
    return HistoryCsv.of(one, read(things -> things.clockOf(one)));
  }
}
