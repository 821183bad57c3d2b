// A quarter of a bar in air, from end to end, its axis of charge along y; in two spheres, the outer
// a shell that stands for all space beyond. Lengths in metres; figures.pro gives them.
SetFactory("OpenCASCADE");
Include "figures.pro";
fine = Sqrt(halfX * halfZ) / 4.5;
Box(1) = {0, -half, 0, halfX, 2 * half, halfZ};
Sphere(2) = {0, 0, 0, inner};
Sphere(3) = {0, 0, 0, outer};
Box(4) = {0, -outer, 0, outer, 2 * outer, outer};
Box(5) = {0, -outer, 0, outer, 2 * outer, outer};
BooleanIntersection(6) = { Volume{2}; Delete; }{ Volume{4}; Delete; };
BooleanIntersection(7) = { Volume{3}; Delete; }{ Volume{5}; Delete; };
BooleanFragments{ Volume{1, 6, 7}; Delete; }{}
e = 1e-6;
magnet() = Volume In BoundingBox{-e, -half - e, -e, halfX + e, half + e, halfZ + e};
inside() = Volume In BoundingBox{-e, -inner - e, -e, inner + e, inner + e, inner + e};
all() = Volume{:};
Physical Volume(100) = {magnet()};
air() = inside(); air() -= magnet();
shell() = all(); shell() -= inside();
Physical Volume(200) = {air()};
Physical Volume(300) = {shell()};
far() = {};
faces() = Abs(Boundary{ Volume{shell()}; });
For i In {0 : #faces() - 1}
  box() = BoundingBox Surface{faces(i)};
  If (box(3) > 0.99 * outer && box(5) > 0.99 * outer && box(1) < -0.99 * outer)
    far() += faces(i);
  EndIf
EndFor
Physical Surface(10) = {far()};
Mesh.MeshSizeExtendFromBoundary = 0;
Field[1] = Box;
Field[1].VIn = fine; Field[1].VOut = outer / 6; 
Field[1].XMin = 0; Field[1].XMax = halfX + 1.5e-3;
Field[1].YMin = -half - 3e-3; Field[1].YMax = half + 3e-3;
Field[1].ZMin = 0; Field[1].ZMax = halfZ + 1.5e-3;
Field[1].Thickness = 0.7 * outer;
Background Field = 1;
