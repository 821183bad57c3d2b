package lodestep.bench;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.dial.PoleUp;
import lodestep.ledger.StudyRecord;
import lodestep.measure.CrossedStudy;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.PlacementStudy;
import lodestep.measure.SettledReading;
import lodestep.port.GaugeEvent.StudyRead;
import lodestep.port.GaugeEvent.StudyStarted;
import lodestep.port.LedgerEvent;
import lodestep.quantity.FluxDensity;

/**
 * A study of the gauge whose readings are guided: which magnet is seated by whom, and in which
 * order. Any thread, immutable.
 *
 * <p>A placement study seats each magnet again and again. In a crossed study everyone seats every
 * magnet once in each round, in an order that is drawn anew for each, so that neither warming nor
 * memory falls on one of them; readings are not shown before the end. Common practice of such
 * studies, no source.
 *
 * @param crossed whether several persons do it
 * @param magnets their names, in the order they are asked for
 * @param persons one without a name in a placement study
 * @param times how often each magnet is seated by each person
 */
public record GuidedStudy(boolean crossed, List<String> magnets, List<String> persons, int times) {

  /** Longer no one sits at a bench. */
  public static final int READINGS_MAX = 2000;

  private static final String PLACEMENT = "placement";
  private static final String CROSSED = "crossed";

  /**
   * @throws IllegalArgumentException with one sentence, if such a study tells nothing
   */
  public GuidedStudy {
    magnets = magnets.stream().map(name -> name("magnet", name)).toList();
    persons = crossed ? persons.stream().map(name -> name("person", name)).toList() : List.of("");
    int least = crossed ? 2 : PlacementStudy.SEATINGS_MIN;
    if (times < least) {
      throw new IllegalArgumentException(
          times + " times tell too little; seat each magnet " + least + " times or more");
    }
    if (magnets.isEmpty() || (crossed && magnets.size() < 2)) {
      throw new IllegalArgumentException(
          crossed
              ? "a crossed study needs two magnets or more, of different levels"
              : "a placement study needs a magnet");
    }
    if (persons.isEmpty()) {
      throw new IllegalArgumentException("a crossed study needs the persons' names");
    }
    requireDistinct("magnet", magnets);
    requireDistinct("person", persons);
    if ((long) times * magnets.size() * persons.size() > READINGS_MAX) {
      throw new IllegalArgumentException(
          (long) times * magnets.size() * persons.size()
              + " readings are more than anyone takes; ask for "
              + READINGS_MAX
              + " at most");
    }
  }

  private static String name(String what, String text) {
    String plain = Cell.plain(text);
    if (plain.isEmpty()) {
      throw new IllegalArgumentException("the name of a " + what + " is left empty");
    }
    return Cell.label(what, plain);
  }

  private static void requireDistinct(String what, List<String> names) {
    if (names.stream().distinct().count() < names.size()) {
      throw new IllegalArgumentException(
          "two " + what + "s have the same name: " + String.join(", ", names));
    }
  }

  /** The study of this method. */
  public static GuidedStudy of(
      String method, List<String> magnets, List<String> persons, int times) {
    if (!method.equals(PLACEMENT) && !method.equals(CROSSED)) {
      throw new IllegalArgumentException(
          "'" + method + "' is no study; write " + PLACEMENT + " or " + CROSSED);
    }
    return new GuidedStudy(method.equals(CROSSED), magnets, persons, times);
  }

  /** The study on record. */
  public static GuidedStudy of(StudyRecord.Study study) {
    return of(
        study.begun().method(), study.magnets(), study.persons(), (int) study.begun().times());
  }

  /** The event that begins it in this nest. */
  public StudyStarted started(NestConfig nest, Optional<FluxDensity> tolerance) {
    return new StudyStarted(
        crossed ? CROSSED : PLACEMENT,
        nest.name(),
        nest.standOff().microMetres(),
        String.join("\n", magnets),
        crossed ? String.join("\n", persons) : "",
        times,
        tolerance.map(FluxDensity::microTesla).orElse(0L));
  }

  /** The whole work of it. */
  public SeriesWork work(
      RigConfig rig, NestConfig nest, GaugeCalibration calibration, LedgerEvent begins) {
    return new SeriesWork(
        nest,
        calibration,
        rig.limits(),
        seatings(nest),
        0,
        Optional.of(begins),
        0,
        SeriesClosing.NONE);
  }

  /**
   * What is left of it.
   *
   * @throws IllegalArgumentException if nothing is
   */
  public SeriesWork rest(
      RigConfig rig, NestConfig nest, GaugeCalibration calibration, StudyRecord.Study study) {
    return new SeriesWork(
        nest,
        calibration,
        rig.limits(),
        seatingsIn(nest.name()).stream().<Placing>map(one -> one.after(study)).toList(),
        study.readings().size(),
        Optional.empty(),
        study.number(),
        SeriesClosing.NONE);
  }

  /** What was read, as the analysis takes it. */
  public static List<CrossedStudy.Measured> measured(List<StudyRead> readings) {
    return readings.stream()
        .map(
            read ->
                new CrossedStudy.Measured(
                    read.part(),
                    read.person(),
                    FluxDensity.ofMicroTesla(read.fieldMicroTesla()).tesla()))
        .toList();
  }

  /**
   * One seating by one person.
   *
   * @param onRecord what the magnet read first, where the study goes on
   */
  public record Seating(String magnet, String person, String nest, Optional<FluxDensity> onRecord)
      implements Placing {

    Seating after(StudyRecord.Study study) {
      return new Seating(
          magnet,
          person,
          nest,
          study.readings().stream()
              .filter(read -> read.part().equals(magnet))
              .findFirst()
              .map(read -> FluxDensity.ofMicroTesla(read.fieldMicroTesla())));
    }

    @Override
    public String asks() {
      return (person.isEmpty() ? "put " : person + " puts ")
          + magnet
          + " in the "
          + nest
          + ", as for any reading";
    }

    @Override
    public String name() {
      return magnet;
    }

    @Override
    public boolean anew() {
      return true;
    }

    /** The other face reads otherwise, however well the magnet lies. */
    @Override
    public Optional<String> objection(SettledReading reading, Optional<FluxDensity> first) {
      PoleUp seen = PoleUp.read(reading.value());
      return onRecord
          .or(() -> first)
          .map(PoleUp::read)
          .filter(was -> was != seen)
          .map(
              was ->
                  "The gauge sees a "
                      + seen.word()
                      + " pole, and "
                      + magnet
                      + " was read by its "
                      + was.word()
                      + " one at first: turn it over; if it lay wrong at first, end the study and"
                      + " begin it anew.");
    }

    @Override
    public List<LedgerEvent> entries(Taken taken) {
      return List.of(
          new StudyRead(
              taken.series(),
              taken.ordinal(),
              magnet,
              person,
              taken.fieldMicroTesla(),
              taken.uncertaintyNanoTesla(),
              taken.reading().samples(),
              taken.gaugeCentiDegC(),
              taken.zero(),
              taken.calibration()));
    }
  }

  /** All seatings in their order; the same for the same names. */
  public List<Seating> seatingsIn(String nest) {
    List<Seating> all = new ArrayList<>();
    if (!crossed) {
      for (String magnet : magnets) {
        all.addAll(Collections.nCopies(times, new Seating(magnet, "", nest, Optional.empty())));
      }
      return all;
    }
    Random drawn = new Random(String.join("\n", magnets).hashCode());
    for (int round = 0; round < times; round++) {
      for (String person : persons) {
        List<String> order = new ArrayList<>(magnets);
        Collections.shuffle(order, drawn);
        order.forEach(magnet -> all.add(new Seating(magnet, person, nest, Optional.empty())));
      }
    }
    return all;
  }

  private List<Placing> seatings(NestConfig nest) {
    return List.copyOf(seatingsIn(nest.name()));
  }
}
