// Half of a pickup with pole pieces, from its middle to the end of its row: bars, posts and a keeper
// of steel in air, in two spheres, the outer a shell that stands for all space beyond. x along the
// strings, y along the row, z up. Lengths in metres; figures.pro gives them.
SetFactory("OpenCASCADE");
Include "figures.pro";
e = 1e-6;
Box(1) = {barX - halfX, 0, -halfZ, 2 * halfX, halfY, 2 * halfZ};
magnets() = {1};
If (bars == 2)
  Box(2) = {-barX - halfX, 0, -halfZ, 2 * halfX, halfY, 2 * halfZ};
  magnets() += {2};
EndIf
steel() = {};
For i In {0 : 2}
  Cylinder(10 + i) = {rowX, (i + 0.5) * pitch, foot, 0, 0, length, radius};
  steel() += {10 + i};
  If (rows == 2)
    Cylinder(20 + i) = {-otherX, (i + 0.5) * pitch, foot, 0, 0, length, radius};
    steel() += {20 + i};
  EndIf
EndFor
If (keeperX > 0)
  Box(30) = {-otherX - keeperX, 0, -keeperZ, 2 * keeperX, keeperY, 2 * keeperZ};
  steel() += {30};
EndIf
Sphere(40) = {0, 0, 0, inner};
Sphere(41) = {0, 0, 0, outer};
Box(42) = {-outer, 0, -outer, 2 * outer, outer, 2 * outer};
Box(43) = {-outer, 0, -outer, 2 * outer, outer, 2 * outer};
BooleanIntersection(50) = { Volume{40}; Delete; }{ Volume{42}; Delete; };
BooleanIntersection(51) = { Volume{41}; Delete; }{ Volume{43}; Delete; };
all() = BooleanFragments{ Volume{51}; Delete; }{ Volume{50, magnets(), steel()}; Delete; };
magnet() = Volume In BoundingBox{barX - halfX - e, -e, -halfZ - e, barX + halfX + e, halfY + e, halfZ + e};
If (bars == 2)
  magnet() += Volume In BoundingBox{-barX - halfX - e, -e, -halfZ - e, -barX + halfX + e, halfY + e, halfZ + e};
EndIf
iron() = Volume In BoundingBox{rowX - radius - e, -e, foot - e, rowX + radius + e, outer, foot + length + e};
If (rows == 2)
  iron() += Volume In BoundingBox{-otherX - radius - e, -e, foot - e, -otherX + radius + e, outer, foot + length + e};
EndIf
If (keeperX > 0)
  iron() += Volume In BoundingBox{-otherX - keeperX - e, -e, -keeperZ - e, -otherX + keeperX + e, keeperY + e, keeperZ + e};
EndIf
inside() = Volume In BoundingBox{-inner - e, -e, -inner - e, inner + e, inner + e, inner + e};
every() = Volume{:};
air() = inside(); air() -= magnet(); air() -= iron();
shell() = every(); shell() -= inside();
Physical Volume(100) = {magnet()};
Physical Volume(400) = {Unique(iron())};
Physical Volume(200) = {air()};
Physical Volume(300) = {shell()};
far() = {};
faces() = Abs(Boundary{ Volume{shell()}; });
For i In {0 : #faces() - 1}
  box() = BoundingBox Surface{faces(i)};
  If (box(4) > 0.99 * outer && box(5) > 0.99 * outer && box(2) < -0.99 * outer && box(3) > 0.99 * outer)
    far() += faces(i);
  EndIf
EndFor
Physical Surface(10) = {far()};
Mesh.MeshSizeExtendFromBoundary = 0;
Mesh.MeshSizeMin = 0.25e-3;
top = foot + length;
Field[1] = Box;
Field[1].VIn = fine; Field[1].VOut = outer / 5;
Field[1].XMin = -otherX - radius - 1e-3; Field[1].XMax = rowX + radius + 1e-3;
Field[1].YMin = 0; Field[1].YMax = 3 * pitch;
Field[1].ZMin = top - 2e-3; Field[1].ZMax = top + 4e-3;
Field[1].Thickness = 1.1 * outer;
Field[2] = Box;
Field[2].VIn = 1.7 * fine; Field[2].VOut = outer / 5;
Field[2].XMin = -barX - halfX - 1e-3; Field[2].XMax = barX + halfX + 1e-3;
Field[2].YMin = 0; Field[2].YMax = halfY + 2e-3;
Field[2].ZMin = -halfZ - 2e-3; Field[2].ZMax = top;
Field[2].Thickness = 1.1 * outer;
Field[3] = Min;
Field[3].FieldsList = {1, 2};
Background Field = 3;
