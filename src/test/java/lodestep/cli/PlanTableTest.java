package lodestep.cli;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.bench.BenchRigs;
import lodestep.bench.Plan;
import lodestep.bench.PlanReader;
import org.junit.jupiter.api.Test;

class PlanTableTest {

  @Test
  void showsAPlanAsUnderstood() {
    String text =
        """
        name,set,alloy,shape,size,pole up,target,tolerance,count
        left,pair,A5,rod,4.9 x 16.5 mm,south,62 mT,2 %,3
        old,,alnico 5,rod,0.2 x 0.65 in,north,down 30 G,6 G,
        spare,,alnico 3,rod,4.9 x 16.5 mm,,demagnetise,,
        """;

    Plan plan = (Plan) new PlanReader(BenchRigs.rules()).read("test", text);

    assertThat(PlanTable.of(plan).lines())
        .containsExactly(
            "line  name   count  set   alloy     shape and siz"
                + "e       nest      pole up       target  tolerance",
            "----  -----  -----  ----  --------  -------------"
                + "------  --------  -------  -----------  ---------",
            "   2  left       3  pair  alnico 5  rod 4.90 x 16"
                + ".50 mm  rod nest  south       -620.0 G   ± 12.4 G",
            "   3  old        1        alnico 5  rod 5.08 x 16"
                + ".51 mm  rod nest  north    down 30.0 G    ± 6.0 G",
            "   4  spare      1        alnico 3  rod 4.90 x 16"
                + ".50 mm  rod nest  -        demagnetise    ± 5.0 G");
  }

  @Test
  void saysWhatMagnetsAreToKeepWhereARowAsksForIt() {
    String text =
        """
        name,alloy,shape,size,pole up,target,tolerance,read after,survives
        left,A5,rod,4.9 x 16.5 mm,south,62 mT,2 %,9 min,7 kA/m
        old,alnico 5,rod,4.9 x 16.5 mm,north,610 G,9 G,,
        """;

    Plan plan = (Plan) new PlanReader(BenchRigs.rules()).read("test", text);

    assertThat(PlanTable.of(plan).lines().get(0)).endsWith("to keep");
    assertThat(PlanTable.of(plan).lines().get(2)).endsWith("survives 7.0 kA/m, read after 9 min");
  }
}
