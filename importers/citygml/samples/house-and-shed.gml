<?xml version="1.0" encoding="UTF-8"?>
<!-- An invented place: a gable 12 m by 8 m with 3 m of rise, and a shed as a part of a yard. -->
<core:CityModel xmlns:core="http://www.opengis.net/citygml/2.0"
                xmlns:bldg="http://www.opengis.net/citygml/building/2.0"
                xmlns:gml="http://www.opengis.net/gml" xmlns:xlink="http://www.w3.org/1999/xlink">
  <core:cityObjectMember>
    <bldg:Building gml:id="house">
      <bldg:lod2Solid>
        <gml:Solid><gml:exterior><gml:CompositeSurface>
          <gml:surfaceMember xlink:href="#south"/><gml:surfaceMember xlink:href="#north"/>
        </gml:CompositeSurface></gml:exterior></gml:Solid>
      </bldg:lod2Solid>
      <bldg:boundedBy>
        <bldg:GroundSurface><bldg:lod2MultiSurface><gml:MultiSurface><gml:surfaceMember>
          <gml:Polygon><gml:exterior><gml:LinearRing><gml:posList srsDimension="3">
            100000 400000 10 100000 400008 10 100012 400008 10 100012 400000 10 100000 400000 10
          </gml:posList></gml:LinearRing></gml:exterior></gml:Polygon>
        </gml:surfaceMember></gml:MultiSurface></bldg:lod2MultiSurface></bldg:GroundSurface>
      </bldg:boundedBy>
      <bldg:boundedBy>
        <bldg:RoofSurface><bldg:lod2MultiSurface><gml:MultiSurface>
          <gml:surfaceMember>
            <gml:Polygon gml:id="south"><gml:exterior><gml:LinearRing><gml:posList>
              100000 400000 13 100012 400000 13 100012 400004 16 100000 400004 16 100000 400000 13
            </gml:posList></gml:LinearRing></gml:exterior></gml:Polygon>
          </gml:surfaceMember>
          <gml:surfaceMember>
            <gml:Polygon gml:id="north"><gml:exterior><gml:LinearRing>
              <gml:pos>100012 400008 13</gml:pos><gml:pos>100000 400008 13</gml:pos>
              <gml:pos>100000 400004 16</gml:pos><gml:pos>100012 400004 16</gml:pos>
              <gml:pos>100012 400008 13</gml:pos>
            </gml:LinearRing></gml:exterior></gml:Polygon>
          </gml:surfaceMember>
        </gml:MultiSurface></bldg:lod2MultiSurface></bldg:RoofSurface>
      </bldg:boundedBy>
    </bldg:Building>
  </core:cityObjectMember>
  <core:cityObjectMember>
    <bldg:Building gml:id="yard">
      <bldg:consistsOfBuildingPart>
        <bldg:BuildingPart gml:id="shed">
          <bldg:lod2MultiSurface><gml:MultiSurface><gml:surfaceMember>
            <gml:Polygon><gml:exterior><gml:LinearRing><gml:posList>
              100020 400000 12 100024 400000 12 100024 400003 12.75 100020 400003 12.75 100020 400000 12
            </gml:posList></gml:LinearRing></gml:exterior></gml:Polygon>
          </gml:surfaceMember></gml:MultiSurface></bldg:lod2MultiSurface>
        </bldg:BuildingPart>
      </bldg:consistsOfBuildingPart>
    </bldg:Building>
  </core:cityObjectMember>
</core:CityModel>
