package lodestep.app.remote;

import com.fasterxml.jackson.annotation.JsonSubTypes;
import com.fasterxml.jackson.annotation.JsonTypeInfo;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.util.List;
import lodestep.config.HeadConfig;
import lodestep.config.RigConfig;
import lodestep.magnet.Shape;
import lodestep.sim.Fault;
import lodestep.sim.FaultPlan;
import lodestep.sim.StockPiece;

/**
 * What a rig process is told at its start. Any thread, immutable.
 *
 * @param nest the nest that is mounted at first
 * @param seed everything the rig draws is drawn from here
 * @param operatorSeed the operator's pauses are drawn from here
 * @param pieces what the operator puts into the nest, in this order
 * @param hand who is there instead of the operator when the work is done by hand; at most one
 * @param faults of the rig, in its own time; one that pauses the host does nothing here
 */
public record RigOrder(
    RigConfig rig,
    String nest,
    long seed,
    long operatorSeed,
    List<StockPiece> pieces,
    List<HandOrder> hand,
    FaultPlan faults) {

  /** Jackson writes and reads every double exactly, so both processes have the very same rig. */
  private static final JsonMapper JSON =
      JsonMapper.builder()
          .addMixIn(HeadConfig.class, HeadKinds.class)
          .addMixIn(Shape.class, ShapeKinds.class)
          .addMixIn(Fault.class, FaultKinds.class)
          .build();

  static {
    JSON.registerSubtypes(Fault.class.getPermittedSubclasses());
  }

  public RigOrder {
    pieces = List.copyOf(pieces);
    hand = List.copyOf(hand);
  }

  /** A rig with its operator. */
  public RigOrder(
      RigConfig rig, String nest, long seed, long operatorSeed, List<StockPiece> pieces) {
    this(rig, nest, seed, operatorSeed, pieces, List.of(), FaultPlan.NONE);
  }

  /** The same rig with these faults. */
  public RigOrder with(FaultPlan breaks) {
    return new RigOrder(rig, nest, seed, operatorSeed, pieces, hand, breaks);
  }

  /** A rig beside which a hand does what the actuators would. */
  public static RigOrder byHand(RigConfig rig, HandOrder hand) {
    return new RigOrder(rig, hand.nest(), hand.seed(), 0, List.of(), List.of(hand), FaultPlan.NONE);
  }

  @JsonTypeInfo(use = JsonTypeInfo.Id.NAME, property = "kind")
  @JsonSubTypes({
    @JsonSubTypes.Type(value = HeadConfig.VirtualHead.class, name = "inside"),
    @JsonSubTypes.Type(value = HeadConfig.SerialHead.class, name = "serial")
  })
  private interface HeadKinds {}

  @JsonTypeInfo(use = JsonTypeInfo.Id.NAME, property = "kind")
  @JsonSubTypes({
    @JsonSubTypes.Type(value = Shape.Rod.class, name = "rod"),
    @JsonSubTypes.Type(value = Shape.Ring.class, name = "ring"),
    @JsonSubTypes.Type(value = Shape.Bar.class, name = "bar")
  })
  private interface ShapeKinds {}

  /** By its own name: the compiler knows every kind. */
  @JsonTypeInfo(use = JsonTypeInfo.Id.NAME, property = "kind")
  private interface FaultKinds {}

  /** The order as one line of JSON, without a line end. */
  String line() {
    try {
      return JSON.writeValueAsString(this);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("a rig process's order cannot be written", e);
    }
  }

  /**
   * Reads what {@link #line} wrote.
   *
   * @throws IllegalArgumentException if it is anything else
   */
  static RigOrder read(String line) {
    try {
      return JSON.readValue(line, RigOrder.class);
    } catch (JsonProcessingException e) {
      throw new IllegalArgumentException("this is no order for a rig process", e);
    }
  }
}
